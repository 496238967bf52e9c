package browsertest

import (
	"bytes"
	"image"
	"math"
	"os"
	"testing"

	"golang.org/x/image/tiff"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/registration"
)

// TestLeftover shows what register leaves by the station's checkbox, and goes from the
// worst place to the next by the key w.
func TestLeftover(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "register"})
	const drawn = `document.querySelectorAll("#lines .left path.over.agreed.sure").length`
	if n := eval[int](p, drawn); n != 0 {
		t.Errorf("%d sets of arrows stand before they are asked for", n)
	}
	p.run(`[...document.querySelectorAll("#panel-register label")].find(l => l.textContent === "Show what is left").click()`)
	p.waitFor(`v.left.shown && v.left.frames.length === 2 && ` + drawn + ` === 2`)
	for i, n := range eval[[]int](p, `JSON.parse(threeply.view()).left.frames.map(f => f.arrows.length)`) {
		if n < 30 || n > 2*registration.MostLeft {
			t.Errorf("frame %d has %d arrows", i, n)
		}
	}
	p.focusCanvas()
	p.press("w")
	p.waitFor(`v.left.place.startsWith("Place 1 of ") && v.left.frames[0].ring`)
	first := eval[[]float64](p, `JSON.parse(threeply.view()).left.frames[0].ring`)
	frame := p.view().Frames[0]
	if math.Hypot(first[0]-frame.X-frame.W/2, first[1]-frame.Y-frame.H/2) > frame.W/2 {
		t.Errorf("the worst place is at %v, the frame %+v", first, frame)
	}
	if zoom := p.view().Zoom; zoom < 1 {
		t.Errorf("the worst place is shown at %.0f %%", 100*zoom)
	}
	p.press("w")
	p.waitFor(`v.left.place.startsWith("Place 2 of ")`)

	// The arrows stay when the drawer is closed, and are put away from where all looks are.
	p.command("station", map[string]any{"id": ""})
	p.waitFor(`v.station === "" && v.left.shown`)
	const away = `[...document.querySelectorAll("#rail label")].find(l => l.textContent === "what is left")`
	p.run(away + `.click()`)
	p.waitFor(`!v.left.shown && ` + away + `.hidden && ` + drawn + ` === 0`)
}

// TestSaveRegisteredPlate saves a plate as a user does: its pixels are those that the
// same code gives on this machine.
func TestSaveRegisteredPlate(t *testing.T) {
	p := demo(t)
	folder := p.downloads()
	p.command("station", map[string]any{"id": "sheets"})
	p.run(`document.querySelector("#drawer button[aria-label='Save the red plate in register']").click()`)
	saved, err := os.ReadFile(waitFile(t, folder, ".tif"))
	if err != nil {
		t.Fatal(err)
	}
	state, set := p.nativeSet()
	var native bytes.Buffer
	if err := export.RegisteredPlate(&state, set.Density, filter.Red, label.Now()).Write(&native); err != nil {
		t.Fatal(err)
	}
	got, want := grey16(t, saved), grey16(t, native.Bytes())
	if got.Rect != want.Rect {
		t.Fatalf("the saved plate is %v, the native one %v", got.Rect, want.Rect)
	}
	worst, far := 0, 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			d := int(got.Gray16At(x, y).Y) - int(want.Gray16At(x, y).Y)
			worst = max(worst, d, -d)
			if d > 40 || d < -40 { // of 65535: rounding moves the place by a thousandth of a pixel
				far++
			}
		}
	}
	t.Logf("differs by %d of 65535 at most", worst)
	if far > 20 {
		t.Errorf("%d pixels differ from the native ones by more than 40 of 65535, up to %d", far, worst)
	}
}

func grey16(t *testing.T, file []byte) *image.Gray16 {
	t.Helper()
	img, err := tiff.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	grey, ok := img.(*image.Gray16)
	if !ok {
		t.Fatalf("the file holds %T", img)
	}
	return grey
}

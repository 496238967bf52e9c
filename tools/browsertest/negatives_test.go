package browsertest

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/setter"
)

// TestSaveNegative saves a printing negative and the process sheet as a user does: the
// picture, the marks and the wedges are those that the same code draws on this machine.
func TestSaveNegative(t *testing.T) {
	p := demo(t)
	folder := p.downloads()
	p.command("station", map[string]any{"id": "sheets"})
	p.command("negatives", map[string]any{"ppi": 120.0, "side": "base"})
	p.waitFor(`v.workbench.lies[0] === "As seen from the ink side, the picture in the file reads mirrored."`)
	press := func(words string) {
		p.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "` + words + `").click()`)
	}
	press("Cyan negative")
	saved, err := os.ReadFile(waitFile(t, folder, ".tif"))
	if err != nil {
		t.Fatal(err)
	}
	state, set := p.nativeSet()
	made, err := setter.New(&state, set.Density, label.Now())
	if err != nil {
		t.Fatal(err)
	}
	f, err := made.TIFF(pigment.Cyan)
	if err != nil {
		t.Fatal(err)
	}
	var native bytes.Buffer
	if err := f.Write(&native); err != nil {
		t.Fatal(err)
	}
	got, want := grey16(t, saved), grey16(t, native.Bytes())
	if got.Rect != want.Rect {
		t.Fatalf("the saved negative is %v, the native one %v", got.Rect, want.Rect)
	}
	far := 0
	for y := made.Strip.Y1; y < made.H; y++ { // the label has the day
		for x := range made.W {
			if d := int(got.Gray16At(x, y).Y) - int(want.Gray16At(x, y).Y); d > 60 || d < -60 { // of 65535: rounding moves the place by a thousandth of a pixel
				far++
			}
		}
	}
	if far > 20 {
		t.Errorf("%d pixels differ from the native ones by more than 60 of 65535", far)
	}
	press("Process sheet")
	page, err := os.ReadFile(waitFile(t, folder, ".html"))
	if err != nil || !strings.Contains(string(page), "What can hurt") {
		t.Errorf("%v: %.200s", err, page)
	}

	// How dots grow, as it was measured: refused with its line, taken, taken away.
	p.command("negatives", map[string]any{"screenUm": 40, "ppi": 635})
	table := `[...document.querySelectorAll("#panel-sheets details")].find(e => e.firstChild.textContent === "Measured growth of dots")`
	give := func(words string) {
		p.run(`(e => { e.querySelector("textarea").value = ` + quoted(words) + `; [...e.querySelectorAll("button")].find(b => b.textContent === "Take the table").click(); })(` + table + `)`)
	}
	give("25 38\n50 30\n75 86")
	p.waitFor(table + `.querySelector(".refused").textContent.startsWith("line 2:")`)
	give("25 38\n50 66\n75 86")
	p.waitFor(`v.workbench.setup.dots.table?.length === 5 && ` + table + `.querySelector("textarea").value === ""`)
	p.run(`[...` + table + `.querySelectorAll("button")].find(b => b.textContent === "Take it away").click()`)
	p.waitFor(`!v.workbench.setup.dots.table`)
}

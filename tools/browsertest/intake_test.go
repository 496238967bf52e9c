package browsertest

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// drop drops files of this machine on the page, all at once, as from a file manager.
func (p *page) drop(files ...string) {
	p.t.Helper()
	p.run(`(() => {
		document.getElementById("test-files")?.remove();
		const input = document.createElement("input");
		input.type = "file"; input.multiple = true; input.id = "test-files"; input.hidden = true;
		document.body.append(input);
	})()`)
	p.upload("#test-files", files...)
	p.run(`(() => {
		const input = document.getElementById("test-files");
		const carried = new DataTransfer();
		for (const file of input.files) carried.items.add(file);
		input.remove();
		for (const kind of ["dragenter", "dragover", "drop"]) {
			document.getElementById("stage").dispatchEvent(
				new DragEvent(kind, {dataTransfer: carried, bubbles: true, cancelable: true}));
		}
	})()`)
}

// demoPlates are the demo's scans in the built site: red, green, blue.
func demoPlates(t testing.TB) [3]string {
	t.Helper()
	var plates [3]string
	for i, filter := range []string{"red", "green", "blue"} {
		found, err := filepath.Glob(filepath.Join(siteDir, "demo", "*"+filter+"*.tif"))
		if err != nil || len(found) != 1 {
			t.Fatalf("the demo's %s plate: %v, %v", filter, found, err)
		}
		if plates[i], err = filepath.Abs(found[0]); err != nil { // the browser runs elsewhere
			t.Fatal(err)
		}
	}
	return plates
}

// another makes another scan of a plate: the same picture under a name of its own, and
// bytes that are not the same, for a set is known by its content.
func another(t testing.TB, file, name string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return made(t, name, append(data, name...)) // readers pass over what follows the picture
}

// under copies a file into a fresh folder under another name.
func under(t *testing.T, file, name string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return made(t, name, data)
}

// made writes a file into a fresh folder.
func made(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestOfficer goes through a digitisation officer's work: drops a set whose names say which
// plate is which, in an order that does not, sees that it is in register, saves the figures
// and a plate in register, and tries another reading of one plate's codes.
func TestOfficer(t *testing.T) {
	p := scans(t)
	plates := demoPlates(t)
	since := p.now()
	p.drop(
		another(t, plates[2], "jug_blue.tif"),
		another(t, plates[0], "jug_red.tif"),
		another(t, plates[1], "jug_green.tif"))
	p.waitFor(`v.plates.length === 3 && v.plates.every(q => q.file.startsWith("jug_")) && v.registered === "auto" && v.idle`)
	longest := p.longest(since)
	t.Logf("longest task while opening three scans: %.0f ms (to reach: 200 ms)", longest.Duration)
	v := p.view()
	for i, want := range []string{"jug_red.tif", "jug_green.tif", "jug_blue.tif"} {
		if got := v.Plates[i].File; got != want {
			t.Errorf("the %s plate is %q, want %q", v.Plates[i].Filter, got, want)
		}
	}
	if v.Ask {
		t.Error("the user is asked which plate is which though the names say it")
	}
	for _, row := range v.Register.Rows {
		if !row.Key && row.Confidence < 0.5 {
			t.Errorf("the %s plate's confidence is %.2f", row.Filter, row.Confidence)
		}
	}
	if n := colours(p.settled(), p.frameRect("print")); n < 500 {
		t.Errorf("the print shows %d colours", n)
	}
	folder := p.downloads()
	checkVerdict(t, p, folder)
	p.command("station", map[string]any{"id": "sheets"})
	p.run(`document.querySelector("#drawer button[aria-label='Save the red plate in register']").click()`)
	saved, err := os.ReadFile(waitFile(t, folder, "red-plate-in-register.tif"))
	if err != nil {
		t.Fatal(err)
	}
	if size := grey16(t, saved).Rect.Size(); size.X != v.Plates[1].W || size.Y != v.Plates[1].H {
		t.Errorf("the red plate in register is %v, the key plate %d × %d", size, v.Plates[1].W, v.Plates[1].H)
	}
	p.command("station", map[string]any{"id": ""})
	// One plate's codes are read as another encoding, and Undo has them as they were.
	base := eval[float64](p, `JSON.parse(threeply.view()).plates[0].base`)
	source := eval[int](p, `JSON.parse(threeply.view()).plates[0].source`)
	p.desk("readPlate", map[string]any{"source": source, "encoding": "gamma 2.2"})
	p.waitFor(fmt.Sprintf(`v.idle && v.plates[0].readAs === "gamma 2.2" && v.plates[0].base > 1.5 * %g && v.plates[1].readAs === ""`, base))
	p.command("undo", nil)
	p.waitFor(fmt.Sprintf(`v.idle && v.plates[0].readAs === "" && v.plates[0].base === %g`, base))
}

// dropFolder drops a folder of this machine on the page, as a file manager does.
func (p *page) dropFolder(path string) {
	p.t.Helper()
	for _, kind := range []input.DispatchDragEventType{"dragEnter", "dragOver", "drop"} {
		p.do("a folder dropped", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			_, err := cdp.Call(ctx, target, input.DispatchDragEvent, input.DispatchDragEventParams{Type: kind, X: 300, Y: 200,
				Data: &input.DragData{Items: []*input.DragDataItem{}, Files: []string{path}, DragOperationsMask: 1}})
			return err
		}))
	}
}

// TestDropFolder drops a folder: the scans in it are opened, and one without any is named.
func TestDropFolder(t *testing.T) {
	p := scans(t)
	folder := filepath.Join(t.TempDir(), "shelf 7")
	files := map[string][]byte{"read me.txt": []byte("scanned in spring")}
	for i, name := range []string{"shelf_red.tif", "shelf_green.tif", "shelf_blue.tif"} {
		data, err := os.ReadFile(another(t, demoPlates(t)[i], name))
		if err != nil {
			t.Fatal(err)
		}
		files[name] = data
	}
	for name, data := range files {
		if err := writeFile(filepath.Join(folder, name), data); err != nil {
			t.Fatal(err)
		}
	}
	p.dropFolder(folder)
	p.waitFor(`v.plates.length === 3 && v.plates.every(q => q.file.startsWith("shelf_")) && v.idle`)
	p.dropFolder(filepath.Dir(made(t, "notes.txt", nil)))
	p.waitFor(`v.messages.some(m => /^The folder \S+ holds no scans\./.test(m.text))`)
}

// TestDropNameless drops a set whose names say nothing: the user is asked, by
// thumbnails, and swaps two plates.
func TestDropNameless(t *testing.T) {
	p := scans(t)
	plates := demoPlates(t)
	files := []string{another(t, plates[0], "0031.tif"), another(t, plates[1], "0032.tif"), another(t, plates[2], "0033.tif")}
	p.drop(files...)
	p.waitFor(`v.ask === true && v.idle`)
	for i, file := range files { // which the browser may have hashed
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := eval[string](p, fmt.Sprintf(`JSON.parse(threeply.sessionText()).sources[%d].sha256`, i)), fmt.Sprintf("%x", sha256.Sum256(data)); got != want {
			t.Errorf("%s is known by %s, want its SHA-256 %s", file, got, want)
		}
	}
	before := p.view()
	p.command("assign", map[string]any{"filter": "red", "source": 2})
	p.waitFor(`v.idle && v.plates[0].file === "0033.tif"`)
	after := p.view()
	if got, want := after.Plates[2].File, before.Plates[0].File; got != want {
		t.Errorf("after the swap the blue plate is %q, want %q", got, want)
	}
}

// TestOpenTall opens one file with three exposures through the page's own file button.
func TestOpenTall(t *testing.T) {
	tall := sharedFile(t, "plates", "cathedral.jpg")
	p := scans(t)
	p.command("station", map[string]any{"id": "plates"})
	before := p.shot()
	p.upload(`input[type="file"][multiple]`, tall)
	p.waitFor(`v.layout !== "separate" && v.plates.every(q => q.file.includes("cathedral")) && v.registered === "auto" && v.idle`)
	v := p.view()
	for _, plate := range v.Plates {
		if plate.Polarity != "positive" {
			t.Errorf("the %s plate is a positive and is taken for a %s", plate.Filter, plate.Polarity)
		}
	}
	for _, row := range v.Register.Rows {
		t.Logf("%s: %.2f, %.2f px, confidence %.2f", row.Filter, row.Found.DxPx, row.Found.DyPx, row.Confidence)
		if !row.Key && row.Confidence < 0.5 {
			t.Errorf("the %s plate's confidence is %.2f", row.Filter, row.Confidence)
		}
	}
	p.waitChanged(before, "print", 0.3)
}

// TestOpenFullSize opens a scan of 3770 × 3242 pixels whose channels are the plates.
func TestOpenFullSize(t *testing.T) {
	full := sharedFile(t, "plates", "melons_unaligned_bgr.jpg")
	p := scans(t)
	since := p.now()
	p.drop(full)
	p.waitFor(`v.plates.every(q => q.file.includes("melons")) && v.registered === "auto" && v.idle`)
	t.Logf("opened and registered in %.1f s; longest task %.0f ms (to reach: 200 ms)", (p.now()-since)/1000, p.longest(since).Duration)
	v := p.view()
	if v.Plates[0].W != 3770 || v.Plates[0].H != 3242 {
		t.Errorf("a plate is %d × %d", v.Plates[0].W, v.Plates[0].H)
	}
	for _, row := range v.Register.Rows {
		t.Logf("%s: %.1f, %.1f px, confidence %.2f", row.Filter, row.Found.DxPx, row.Found.DyPx, row.Confidence)
	}
	if n := colours(p.settled(), p.frameRect("print")); n < 500 {
		t.Errorf("the print shows %d colours", n)
	}
}

// TestBadInput opens what cannot be opened. Each gives one clear message that names
// the file, the page goes on, and what was open stays open.
func TestBadInput(t *testing.T) {
	p := scans(t)
	p.waitFor(`v.ready && v.idle`)
	plates := demoPlates(t)
	whole, err := os.ReadFile(plates[0])
	if err != nil {
		t.Fatal(err)
	}
	red, green, blue := plates[0], plates[1], plates[2]
	text := made(t, "notes_red.tif", []byte("Plate 12, red filter, 4 s at f/8.\n"))
	empty := made(t, "empty_red.tif", nil)
	cut := made(t, "cut_red.tif", whole[:len(whole)/2])
	spoilt := bytes.Clone(whole) // within what the browser unpacks
	spoilt[len(spoilt)/2] ^= 0x10
	flawed := made(t, "flawed_red.tif", spoilt)
	huge := made(t, "huge_red.png", hugePNG())
	before := p.view()
	for _, c := range []struct {
		name  string
		files []string
		says  []string // words of the message; one of each "a|b" is enough
	}{
		{"a text named .tif", []string{text, green, blue}, []string{"notes_red.tif"}},
		{"an empty file", []string{empty, green, blue}, []string{"empty_red.tif", "empty|no bytes|0 bytes|nothing in"}},
		{"half a file", []string{cut, green, blue}, []string{"cut_red.tif"}},
		{"a file with one byte changed", []string{flawed, green, blue}, []string{"flawed_red.tif: it is damaged (zlib: invalid checksum)|flawed_red.tif: it is damaged (flate: corrupt input"}},
		{"a claim of 10⁹ pixels", []string{huge, green, blue}, []string{"huge_red.png", "large|big|pixels"}},
		{"five files", []string{red, green, blue, text, empty}, []string{"five|5", "three"}},
		{"one plate three times", []string{under(t, red, "a_red.tif"), under(t, red, "a_green.tif"), under(t, red, "a_blue.tif")}, []string{"same|identical|twice|three times"}},
	} {
		p.drop(c.files...)
		p.waitFor(`v.idle && v.messages.length > 0`)
		v := p.view()
		if len(v.Messages) != 1 {
			t.Errorf("%s: %d messages, want one: %v", c.name, len(v.Messages), v.Messages)
		}
		said := v.Messages[0].Text
		t.Logf("%s: %s", c.name, said)
		for _, want := range c.says {
			if !slices.ContainsFunc(strings.Split(want, "|"), func(word string) bool {
				return strings.Contains(strings.ToLower(said), word)
			}) {
				t.Errorf("%s: the message does not say %q: %s", c.name, want, said)
			}
		}
		for i := range v.Plates {
			if v.Plates[i] != before.Plates[i] {
				t.Errorf("%s: the open plates changed to %v", c.name, v.Plates[i])
			}
		}
		p.dismissAll()
	}
	// Plates without their set are kept, each in its place, and what was open stays open.
	p.drop(green)
	p.waitFor(`v.idle && v.gathered.length === 3 && v.gathered[1].name !== "" && v.gathered[0].name === ""`)
	p.drop(blue)
	p.waitFor(`v.idle && v.gathered[2].name !== "" && v.messages.at(-1).text.includes("Still missing: the red plate")`)
	p.command("station", map[string]any{"id": "plates"})
	p.waitFor(`document.querySelector(".gathered .missing:not([hidden])").textContent === "Red plate: missing" && [...document.querySelectorAll(".gathered img:not([hidden])")].filter((img) => img.naturalWidth > 100).length === 2`)
	p.desk("letGo", map[string]any{"place": 1})
	p.desk("letGo", map[string]any{"place": 2})
	p.waitFor(`v.gathered.length === 0`)
	p.dismissAll()
	p.command("station", map[string]any{"id": ""})
	shown := p.shot()
	p.command("palette", map[string]any{"id": "earth"})
	p.waitChanged(shown, "print", 0.1)
}

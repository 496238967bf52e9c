package browsertest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
)

// tissue is the tissue of a printer in the page's palette.
func (p *page) tissue(printer pigment.Printer) pigment.Tissue {
	p.t.Helper()
	s := p.session()
	palette, ok := s.PaletteByID(s.Palette)
	if !ok {
		p.t.Fatalf("no palette %q", s.Palette)
	}
	return palette.Layer(printer)
}

// atTissues opens the page where its tissues can be edited.
func atTissues(t *testing.T) *page {
	t.Helper()
	p := demo(t)
	p.command("station", map[string]any{"id": "tissues"})
	p.waitFor(`document.getElementById("panel-tissues").checkVisibility()`)
	p.run(`for (const part of document.querySelectorAll("#panel-tissues > .fold")) part.open = true`)
	return p
}

// fill enters a text or a number into a field, as a user does.
func (p *page) fill(selector, words string) {
	p.t.Helper()
	p.run(`(() => { const e = document.querySelector(` + quoted(selector) + `); e.focus(); e.select(); })()`)
	p.typed(words)
}

// pushButton pushes the first button within a part of the page that begins with the words.
func (p *page) pushButton(part, words string) {
	p.t.Helper()
	p.run(`[...document.querySelectorAll(` + quoted(part+" button") + `)].find(b => b.textContent.startsWith(` + quoted(words) + `)).click()`)
}

// scrollTo brings a control into view and gives its place.
func (p *page) scrollTo(selector string) (x, y, w float64) {
	p.t.Helper()
	box := eval[[]float64](p, `(() => {
		const e = document.querySelector(`+quoted(selector)+`);
		const column = document.getElementById("drawer");
		column.style.scrollBehavior = "auto";
		const r = e.getBoundingClientRect(), c = column.getBoundingClientRect();
		column.scrollTop += r.top - c.top - 300;
		const b = e.getBoundingClientRect();
		return [b.left, b.top + b.height / 2, b.width];
	})()`)
	return box[0], box[1], box[2]
}

// TestStackLeadsToTheTissue chooses a layer in the drawing of the stack: its
// tissue's editor opens and lies in view. Who is registering stays there, and
// finds it open later.
func TestStackLeadsToTheTissue(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "sheets"})
	p.click("#stack .layers li:nth-child(2) .pick")
	p.waitFor(`v.station === "tissues" && v.editing.printer === "magenta" && v.selected === "magenta"`)
	p.waitFor(`(() => {
		const box = document.querySelector("#tissue-magenta").getBoundingClientRect();
		return box.height > 100 && box.top >= 0 && box.top < innerHeight / 2;
	})()`)
	p.command("station", map[string]any{"id": "register"})
	p.click("#stack .layers li:nth-child(1) .pick")
	p.waitFor(`v.station === "register" && v.selected === "cyan"`)
	p.click("#pull-tissues")
	p.waitFor(`v.editing.printer === "cyan" && document.querySelector("#tissue-cyan").checkVisibility()`)
}

// TestEditTissue edits a load by its slider and a mix by its controls: the
// palette, its depth, its swatch and the print go along, and each gesture is
// one step of undo.
func TestEditTissue(t *testing.T) {
	p := atTissues(t)
	p.click("[data-tissue=cyan] .opener")
	p.waitFor(`document.querySelector("#tissue-cyan").checkVisibility()`)
	before, first := p.settled(), p.view()
	begun := p.tissue(pigment.Cyan)
	depth := `v.palettes.find(q => q.chosen).depth.L`
	deep := eval[float64](p, `JSON.parse(threeply.view()).palettes.find(q => q.chosen).depth.L`)

	load := "#tissue-cyan .amounts .slider:nth-child(1)"
	x, y, w := p.scrollTo(load + " input[type=range]")
	p.drag(x+w/2, y, x+w/8, y)
	light := p.waitChanged(before, "print", 0.2)
	p.waitFor(depth + ` > ` + number(deep+5))
	got := p.tissue(pigment.Cyan)
	if !(got.Load > 0.2 && got.Load < 0.6) || got.Haze != begun.Haze || p.view().palette() == first.palette() {
		t.Errorf("after the drag the tissue of %s is %+v", p.view().palette(), got)
	}
	shown := eval[string](p, `document.querySelector("`+load+` input[type=number]").value`)
	if want := fmt.Sprint(got.Load); shown != want {
		t.Errorf("the field shows the load %s, want %s", shown, want)
	}

	swatch := `getComputedStyle(document.querySelector("[data-tissue=cyan] .opener .chip")).backgroundColor`
	chip := eval[string](p, swatch)
	p.run(`document.querySelector("#tissue-cyan .adding").open = true`)
	p.run(`(() => { const s = document.querySelector("#tissue-cyan .adding select"); s.value = "PG7"; s.dispatchEvent(new Event("change")); })()`)
	facts, _ := pigment.PigmentByCI("PG7")
	p.waitFor(`document.querySelector("#tissue-cyan .adding").textContent.replaceAll("\u00a0", " ").includes(` + quoted(facts.Source) + `)`)
	// blue wool 7–8 stands 298 to 900 Mlx·h, at 0.146 a year
	if words := eval[string](p, `document.querySelector("#tissue-cyan .mix").innerText`); !strings.Contains(words, "after about 2000 to 6200 years") {
		t.Errorf("of Phthalocyanine blue on show the page says %q", words)
	}
	for _, want := range []string{facts.Era, facts.Lightfastness, facts.Status} {
		if words := eval[string](p, `document.querySelector("#tissue-cyan .adding").textContent.replaceAll("\u00a0", " ")`); !strings.Contains(words, want) {
			t.Errorf("before it is added the pigment says “%s”, not “%s”", words, want)
		}
	}
	p.pushButton("#tissue-cyan .adding", "Add it")
	p.waitFor(`document.querySelectorAll("#tissue-cyan .mix li").length === 2`)
	p.fill("#tissue-cyan .mix li:nth-child(2) input[type=number]", "60")
	p.waitFor(swatch + ` !== ` + quoted(chip))
	got = p.tissue(pigment.Cyan)
	if len(got.Pigments) != 2 || math.Abs(got.Pigments[0].Share-0.4) > 1e-9 || math.Abs(got.Pigments[1].Share-0.6) > 1e-9 {
		t.Errorf("the mix is %+v", got.Pigments)
	}

	p.click("#undo") // the share
	if got := p.tissue(pigment.Cyan); len(got.Pigments) != 2 || math.Abs(got.Pigments[1].Share-0.2) > 1e-9 {
		t.Errorf("after undoing the share the mix is %+v", got.Pigments)
	}
	p.click("#undo") // the pigment
	p.waitSame(light, "print", 0.001)
	p.click("#undo") // the drag, all of it
	p.waitSame(before, "print", 0.001)
	if v := p.view(); v.palette() != first.palette() || len(v.Palettes) != len(first.Palettes) {
		t.Errorf("after undo %q of %d palettes", v.palette(), len(v.Palettes))
	}

	// What a step tablet printed is entered beside it: refused with its line, then taken.
	table := `document.querySelector("#tissue-cyan textarea")`
	p.run(`for (let d = ` + table + `.parentElement.closest("details"); d; d = d.parentElement.closest("details")) d.open = true`)
	p.run(table + `.value = "0.05 1.3\n0.2 0.5\n0.35 1.0\n0.5 0.2"`)
	p.pushButton("#tissue-cyan .hardens .hardens", "Take the wedge")
	p.waitFor(`document.querySelector("#tissue-cyan .hardens .refused[role=alert]:not(:empty)")?.textContent.includes("line 2")`)
	p.run(table + `.value = "0.05 1.3\n0.2 1.3\n0.35 1.0\n0.5 0.6\n0.65 0.2\n0.8 0"`)
	p.pushButton("#tissue-cyan .hardens .hardens", "Take the wedge")
	p.waitFor(`v.undo === "measured wedge"`)
	if got := p.tissue(pigment.Cyan); len(got.Hardening.Wedge) != 5 || !(got.Load < begun.Load) {
		t.Errorf("with a wedge the tissue is %+v", got)
	}
	p.click("#undo")
}

// TestPaletteFiles saves an own palette, takes it away and opens it again;
// files that are none are refused with name, line and reason.
func TestPaletteFiles(t *testing.T) {
	p := atTissues(t)
	folder := p.downloads()
	p.click("[data-tissue=yellow] .opener")
	p.waitFor(`document.querySelector("#tissue-yellow").checkVisibility()`)
	p.fill("#tissue-yellow .amounts .slider:nth-child(2) input[type=number]", "3")
	p.waitFor(`document.querySelector(".palette[data-chosen] .own")?.checkVisibility()`)
	p.fill(".palette[data-chosen] .own input", "Hazy yellow")
	p.waitFor(`v.palettes.some(q => q.chosen && q.name === "Hazy yellow")`)
	p.waitFor(`document.querySelector(".palette[data-chosen] .aside").textContent === "own"`)
	p.pushButton(".palettes", "Save the chosen")
	name := waitFile(t, folder, "-palette.json")
	saved, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	read, err := pigment.Read(saved)
	if err != nil || read.Yellow.Haze != 3 || read.Name != "Hazy yellow" {
		t.Fatalf("the file holds %+v (%v)", read, err)
	}
	p.pushButton(".palettes", "Save the schema")
	schema, err := os.ReadFile(waitFile(t, folder, ".schema.json"))
	if err != nil || string(schema) != string(pigment.Schema) {
		t.Errorf("the saved schema has %d bytes, want %d (%v)", len(schema), len(pigment.Schema), err)
	}

	p.pushButton(".palette[data-chosen]", "Take it away")
	p.waitFor(`v.palettes.every(q => !q.own)`)
	upload := `.palettes .actions input[type="file"]`
	p.upload(upload, name)
	p.waitFor(`v.palettes.some(q => q.own && q.chosen && q.name === "Hazy yellow")`)
	if got := p.tissue(pigment.Yellow); got.Haze != 3 {
		t.Errorf("the opened tissue is %+v", got)
	}

	before := p.session()
	for reason, text := range map[string]string{
		"the cyan tissue is missing": withoutCyan(t, saved),
		"haze":                       strings.Replace(string(saved), `"haze": 3`, `"haze": 3000`, 1),
		"sum to 0.5":                 strings.Replace(string(saved), `"share": 1`, `"share": 0.5`, 1),
		"not JSON":                   string(saved[:len(saved)/2]),
	} {
		p.upload(upload, made(t, "kept of last year.json", []byte(text)))
		p.waitFor(`v.messages.some(m => m.kind === "error" && m.text.startsWith("kept of last year.json, line ") && m.text.includes(` + quoted(reason) + `))`)
		if !p.session().Equal(before) {
			t.Errorf("%s: the session changed", reason)
		}
	}
}

// withoutCyan is a palette file that lacks a printer.
func withoutCyan(t *testing.T, saved []byte) string {
	t.Helper()
	var file map[string]any
	if err := json.Unmarshal(saved, &file); err != nil {
		t.Fatal(err)
	}
	delete(file["palette"].(map[string]any), "cyan")
	out, err := json.MarshalIndent(file, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// TestOwnPaper makes a paper of its CIELAB, of a scan and of a spectrum file,
// and is refused a spectrum with a gap.
func TestOwnPaper(t *testing.T) {
	p := atTissues(t)
	p.waitFor(`document.querySelector(".papers").textContent.includes("Described after a measured")`)
	p.run(`document.querySelector(".own-paper").open = true`)
	before := p.settled()
	p.fill(".own-paper input.line", "Straw")
	for i, v := range []string{"88", "1", "18"} {
		p.fill(fmt.Sprintf(".lab .number:nth-child(%d) input", i+1), v)
	}
	p.pushButton(".own-paper", "Use this colour")
	p.waitFor(`v.papers.some(q => q.own && q.name === "Straw" && q.id === v.paper)`)
	p.waitChanged(before, "print", 0.3)
	p.waitFor(`document.querySelector(".papers").textContent.includes("Made of its CIELAB under D50")`)
	r, light := p.recipe()
	if lab := light.Lab(r.Paper.R); lab.Distance(spectrum.Lab{88, 1, 18}) > 0.01 {
		t.Errorf("the paper is %.3f", lab)
	}

	sheet := image.NewRGBA(image.Rect(0, 0, 60, 40))
	draw.Draw(sheet, sheet.Bounds(), image.NewUniform(color.RGBA{231, 222, 200, 255}), image.Point{}, draw.Src)
	var scan bytes.Buffer
	if err := png.Encode(&scan, sheet); err != nil {
		t.Fatal(err)
	}
	p.upload(`.own-paper input[accept*="image/png"]`, made(t, "sheet.png", scan.Bytes()))
	p.waitFor(`document.querySelector(".own-paper [role=status]").textContent.includes("sRGB (8 bits, no profile)")`)
	want := spectrum.SRGBLab([3]float64{spectrum.DecodeSRGB(231. / 255), spectrum.DecodeSRGB(222. / 255), spectrum.DecodeSRGB(200. / 255)})
	got := eval[[]float64](p, `[...document.querySelectorAll(".lab input")].map(e => Number(e.value))`)
	for i := range want {
		if !(math.Abs(got[i]-want[i]) < 0.1) {
			t.Errorf("the scan reads as %v, want %.2f", got, want)
			break
		}
	}

	upload := `.own-paper input[accept*=".txt"]`
	was := p.session()
	p.upload(upload, made(t, "gap.txt", []byte("380 0.7\n390 0.7\n500 0.7\n730 0.7\n")))
	p.waitFor(`v.messages.some(m => m.kind === "error" && m.text.startsWith("gap.txt, line 3: there is a gap from 390 to 500 nm"))`)
	if !p.session().Equal(was) {
		t.Error("a refused spectrum changed the session")
	}
	var even strings.Builder
	for nm := 380; nm <= 730; nm += 10 {
		fmt.Fprintf(&even, "%d, 0.75\n", nm)
	}
	p.upload(upload, made(t, "even.csv", []byte(even.String())))
	p.waitFor(`document.querySelector(".papers .facts").textContent === "Measured spectrum."`)
	if r, _ := p.recipe(); r.Paper.R[10] != 0.75 {
		t.Errorf("the measured paper reflects %g", r.Paper.R[10])
	}
	p.pushButton(".papers > .actions", "Take it away")
	p.waitFor(`!v.papers.some(q => q.source === "measured spectrum")`)
}

// TestLampAndRoom sets a lamp by its colour temperature and the dim gallery: the
// print changes, the caption says both, and undo takes them back.
func TestLampAndRoom(t *testing.T) {
	p := atTissues(t)
	before := p.settled()
	p.fill(".light input[type=number]", "2200")
	p.waitFor(`v.light === "2200K" && v.kelvin === 2200`)
	lamp := p.waitChanged(before, "print", 0.2)
	p.run(`[...document.querySelectorAll(".light .radios input")].at(-1).click()`)
	p.waitFor(`v.dim`)
	p.waitChanged(lamp, "print", 0.2)
	p.waitFor(`(t => t.includes("2200\u00a0K") && t.includes("gallery, 50\u00a0lx"))(document.getElementById("captions").textContent)`)
	p.click("#undo")
	p.waitFor(`!v.dim`)
	p.waitSame(lamp, "print", 0.001)
	p.click("#undo")
	p.waitSame(before, "print", 0.001)
}

// TestOwnGoesAlong drops other scans: own palette and paper stay in use. TestReload
// keeps them over a reload.
func TestOwnGoesAlong(t *testing.T) {
	p := scans(t)
	p.waitFor(`v.ready && v.idle`)
	tissue := p.tissue(pigment.Magenta)
	tissue.Load = 1.5
	p.command("tissue", map[string]any{"printer": "magenta", "tissue": tissue})
	p.run(`threeply.do(JSON.stringify({do: "takePaper", paper: JSON.parse(threeply.paperOfLab("Oat", 90, 1, 9)).paper}))`)
	was := p.session()
	if len(was.OwnPalettes) != 1 || len(was.OwnPapers) != 1 {
		t.Fatalf("%d own palettes, %d own papers", len(was.OwnPalettes), len(was.OwnPapers))
	}
	plates := demoPlates(t)
	p.drop(another(t, plates[0], "shed-red.tif"), another(t, plates[1], "shed-green.tif"), another(t, plates[2], "shed-blue.tif"))
	p.waitFor(`v.registered === "auto" && v.idle && v.plates.every(q => q.file.startsWith("shed-"))`)
	now := p.session()
	if now.Palette != was.Palette || now.Paper != was.Paper || p.tissue(pigment.Magenta).Load != 1.5 || len(now.OwnPapers) != 1 {
		t.Errorf("palette %q with load %g on paper %q", now.Palette, p.tissue(pigment.Magenta).Load, now.Paper)
	}
}

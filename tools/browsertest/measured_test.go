package browsertest

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"threeply/proof/flatbed/flatbedtest"
	"threeply/proof/pigment"
	"threeply/proof/sheet"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// readTestSheet is what an instrument reads of the test sheet of one palette that was
// printed with the tissues of another, on straight lines of log exposure.
func readTestSheet(asked pigment.Palette, with string) []byte {
	used, _ := pigment.PaletteByID(with)
	return readPrinted(asked, stack.DefaultRecipe(used).Layers())
}

// readSwapped is what is read of it where its tissues are far from the palette's (published
// swatches), and where rows F and G were read for each other: only the fit shows that.
func readSwapped(asked pigment.Palette) []byte {
	l := stack.DefaultRecipe(asked).Layers()
	for i, ci := range []string{"PY37", "NR9", "PG18"} {
		g, _ := pigment.PigmentByCI(ci)
		l.K[i], l.S[i] = g.K(), g.S()
	}
	return []byte(strings.NewReplacer("\nF", "\nG", "\nG", "\nF").Replace(string(readPrinted(asked, l))))
}

func readPrinted(asked pigment.Palette, tissues *stack.Layers) []byte {
	var out strings.Builder
	out.WriteString("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID")
	for nm := 380; nm <= 730; nm += 20 {
		fmt.Fprintf(&out, " SPECTRAL_NM%d", nm)
	}
	out.WriteString("\nEND_DATA_FORMAT\nBEGIN_DATA\n")
	for _, p := range testsheet.Of(asked).Patches {
		if p.Ground == testsheet.Dark {
			continue
		}
		var amounts [3]float64
		for l, has := range p.Has {
			if has {
				amounts[l] = min(max(1+p.LogE[l]/1.4, 0), 1)
			}
		}
		out.WriteString(p.ID)
		for i, v := range tissues.Reflectance(amounts) {
			if i%4 == 0 {
				fmt.Fprintf(&out, " %.4f", v)
			}
		}
		out.WriteString("\n")
	}
	out.WriteString("END_DATA\n")
	return []byte(out.String())
}

// TestReadingsBecomeTissues saves the test sheet, brings its readings back by dropping
// them, looks at what they say and takes the tissues; one step of undo takes them back.
func TestReadingsBecomeTissues(t *testing.T) {
	p := demo(t)
	folder := p.downloads()
	p.command("station", map[string]any{"id": "sheets"})
	p.pushButton(`[data-sheet="measured"]`, "Test sheet, cyan")
	if saved := waitFile(t, folder, "test-sheet-cyan.tif"); saved == "" {
		t.Error("no test sheet was saved")
	}
	// What was printed stays the sheet that readings are of, whatever becomes of the palette, until
	// another is chosen: by a plan that is dropped, or from the list.
	asked, _ := pigment.PaletteByID(p.session().Palette)
	other, _ := pigment.PaletteByID("chrome")
	printed, planned := testsheet.Of(asked), testsheet.Of(other)
	plan, err := planned.File(other, "Threeply", "2026-03-02T10:20:00Z")
	if err != nil {
		t.Fatal(err)
	}
	p.waitFor(fmt.Sprintf(`v.testSheet === %q && v.testSheets.length === 1`, printed.Code()))
	p.drop(made(t, "test-sheet.json", plan))
	p.waitFor(fmt.Sprintf(`v.testSheet === %q && v.testSheets.length === 2`, planned.Code()))
	if said := eval[string](p, `JSON.parse(threeply.view()).testSheets[0].name`); said != planned.Code()+" · 2026-03-02 · "+other.Name {
		t.Error(said)
	}
	p.pushButton(`[data-sheet="measured"]`, "Take off the list")
	p.waitFor(`v.testSheet === "" && v.testSheets.length === 1`)
	p.command("readSheet", map[string]any{"code": printed.Code()})
	p.command("palette", map[string]any{"id": other.ID})
	p.command("palette", map[string]any{"id": asked.ID})
	p.command("station", map[string]any{"id": ""})
	bad := made(t, "bad.txt", []byte("SAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,0,1,0,2,0,3\n"))
	p.drop(bad)
	p.waitFor(`v.messages.some(m => m.kind === "error" && m.text.startsWith("bad.txt, line 2:")) && v.station === ""`)
	p.dismissAll()

	before := p.session().Palette
	palette, _ := pigment.PaletteByID(before)
	readings := made(t, "readings.txt", readTestSheet(palette, "amber"))
	// A fit says how far it is, and is stopped at once; nothing comes of it.
	p.drop(readings)
	p.waitFor(`v.jobs.length === 1 && document.querySelector("#busy progress")?.value > 0`)
	p.run(`document.querySelector("#busy button").click()`)
	p.waitFor(`v.jobs.length === 0`)
	if texts := p.view().errors(); len(texts) != 0 || eval[bool](p, `document.querySelector(".found .patches") !== null`) {
		t.Errorf("what was stopped says %q", texts)
	}
	// Rows that were swapped are put right, and it is said.
	p.drop(made(t, "swapped.txt", readSwapped(palette)))
	p.waitFor(`document.querySelector(".found .large")?.textContent.startsWith("The sheet was read with rows F and G swapped; the readings were put right. Overprints that")`)
	since := p.now()
	p.drop(readings)
	p.waitFor(`[...document.querySelectorAll(".found .hint")].some((hint) => hint.textContent === "Read as test sheet ` + printed.Code() + `.")`)
	p.waitFor(`document.querySelector(".found .patches") !== null && !document.querySelector(".found .large").textContent.startsWith("The sheet was read")`)
	t.Logf("fitted in the worker after %.1f s (to reach: 20 s)", (p.now()-since)/1000)
	white := 0
	for _, patch := range testsheet.Of(palette).Patches {
		if patch.Ground == testsheet.White {
			white++
		}
	}
	if got := eval[int](p, `document.querySelectorAll(".found .patches g").length`); got != white {
		t.Errorf("%d patches are shown of %d", got, white)
	}
	if said := eval[string](p, `document.querySelector(".found .large").textContent`); !strings.Contains(said, "Overprints that were held out come within") {
		t.Error(said)
	}
	if dir := os.Getenv("THREEPLY_LOOK"); dir != "" {
		for _, size := range [][2]int64{{1400, 860}, {1920, 1080}, {700, 430}} {
			p.resize(size[0], size[1])
			p.run(`document.querySelector("[data-sheet=measured]").scrollIntoView()`)
			p.rest()
			_ = writeFile(fmt.Sprintf("%s/top-%d.png", dir, size[0]), p.shotPNG())
			p.run(`document.querySelector(".found .patches").scrollIntoView()`)
			p.rest()
			_ = writeFile(fmt.Sprintf("%s/found-%d.png", dir, size[0]), p.shotPNG())
			p.run(`document.querySelector(".found .curves").scrollIntoView()`)
			p.rest()
			_ = writeFile(fmt.Sprintf("%s/curves-%d.png", dir, size[0]), p.shotPNG())
		}
	}
	p.pushButton(".found", "Use these tissues")
	p.waitFor(`v.palettes.some(q => q.chosen && q.measured)`)
	s := p.session()
	if now, _ := s.PaletteByID(s.Palette); now.Measured == nil || now.Measured.Way != "spectra" || now.Cyan.Measured == nil {
		t.Errorf("the palette taken is %+v", now.Measured)
	}
	if rests := eval[string](p, `JSON.parse(threeply.view()).rests`); !strings.Contains(rests, "Measured ") {
		t.Error(rests)
	}
	p.command("undo", nil)
	if got := p.session().Palette; got != before {
		t.Errorf("after undo it prints with %s", got)
	}

	// Off a flatbed: the target is found, and shown in a small picture of the scan.
	drawn := testsheet.Of(palette)
	refs, spectra, _ := flatbedtest.Chart()
	scanned, _ := flatbedtest.NewGlass().Scanned(flatbedtest.NewWorkshop(palette), drawn, refs, 102, 2)
	var file bytes.Buffer
	tiff := sheet.TIFF{W: scanned.W, H: scanned.H, Samples: 3, Plain: true, PPI: scanned.PPI, Row: func(y int, row []uint16) {
		for i := range row {
			row[i] = scanned.Planes[i%3].At(i/3, y)
		}
	}}
	if err := tiff.Write(&file); err != nil {
		t.Fatal(err)
	}
	const openFlatbed = `document.querySelector(".flatbed").open = true; document.querySelectorAll(".flatbed input[type=file]").forEach((input, i) => { input.id = "flatbed-" + i; })`
	p.run(openFlatbed)
	p.upload("#flatbed-0", made(t, "sheet.tif", file.Bytes()))
	p.waitFor(`document.querySelector(".flatbed canvas").width > 300 && !document.querySelector(".flatbed canvas").hidden`)
	p.upload("#flatbed-1", made(t, "target.txt", []byte(spectra)))
	p.waitFor(`document.querySelector(".flatbed .hint[role=status]").textContent.startsWith("The target is found")`)
	if dir := os.Getenv("THREEPLY_LOOK"); dir != "" {
		for _, size := range [][2]int64{{1400, 860}, {1920, 1080}, {700, 430}} {
			p.resize(size[0], size[1])
			p.run(`document.querySelector(".flatbed canvas").scrollIntoView({block: "center"})`)
			p.rest()
			_ = writeFile(fmt.Sprintf("%s/flatbed-%d.png", dir, size[0]), p.shotPNG())
		}
	}
	// With another target's values nothing is fitted until somebody says that it is the target.
	fitDisabled := `[...document.querySelectorAll(".flatbed button")].find((b) => b.textContent === "Fit to this scan").disabled`
	p.upload("#flatbed-1", made(t, "other.txt", []byte(otherTarget(spectra))))
	p.waitFor(`document.querySelector(".flatbed .hint[role=status]:not([hidden])").textContent.startsWith("Is this the target?") && ` + fitDisabled)
	p.pushButton(".flatbed", "It is the target")
	p.waitFor(`!` + fitDisabled)
	p.upload("#flatbed-1", made(t, "target.txt", []byte(spectra)))
	p.waitFor(`[...document.querySelectorAll(".flatbed .hint[role=status]")].some((hint) => hint.textContent.startsWith("The target is found"))`)
	// A scan that cannot be read leaves the one before in use, which is said.
	p.upload("#flatbed-0", made(t, "torn.tif", []byte("II*")))
	p.waitFor(`v.messages.some(m => m.kind === "error") && [...document.querySelectorAll(".flatbed p")].some((p) => p.checkVisibility() && p.textContent === "What you opened last was refused.")`)
	if !eval[bool](p, `[...document.querySelectorAll(".flatbed p")].some((p) => p.checkVisibility() && p.textContent === "In use: sheet.tif, target.txt") && !`+fitDisabled) {
		t.Error("the page does not say that the scan before is still in use")
	}
	p.dismissAll()
	p.pushButton(".flatbed", "Fit to this scan")
	p.waitFor(`document.querySelector(".found .large")?.textContent.startsWith("Densities tell no spectra")`)

	p.run(`document.querySelector(".flatbed").open = false`)

	// By eye: a small form, whose answer is one step, said to be by eye, and kept.
	p.run(`document.querySelector(".eye").open = true`)
	for i, printer := range pigment.Printers() {
		w := drawn.Wedge(printer)
		for k, value := range []string{w[len(w)-5].ID, w[0].ID, w[len(w)/2].ID, "0.9"} {
			if i == 2 && k == 3 {
				p.writeBesideSlowView(t, 4*i+k, value)
				continue
			}
			p.run(fmt.Sprintf(`(() => { const input = document.querySelectorAll(".eye input")[%d]; input.value = %q; input.dispatchEvent(new Event("input")); })()`, 4*i+k, value))
		}
	}
	// What is written there is one step, and comes back from the session.
	if s := p.session(); s.Sight == nil || s.Sight.Palette != before || !strings.Contains(s.Sight.Table, "\t0.9\n") {
		t.Errorf("of what was written down the session has %+v", s.Sight)
	}
	p.command("undo", nil)
	p.waitFor(`v.sight === "" && [...document.querySelectorAll(".eye input")].every((input) => input.value === "")`)
	p.command("redo", nil)
	p.waitFor(`[...document.querySelectorAll(".eye input")].filter((input) => input.value !== "").length === 12`)
	if dir := os.Getenv("THREEPLY_LOOK"); dir != "" {
		for _, size := range [][2]int64{{1400, 860}, {1920, 1080}, {700, 430}} {
			p.resize(size[0], size[1])
			p.run(`document.querySelector(".eye").scrollIntoView({block: "center"})`)
			p.rest()
			_ = writeFile(fmt.Sprintf("%s/eye-%d.png", dir, size[0]), p.shotPNG())
		}
	}
	p.pushButton(".eye", "Use what I see")
	p.waitFor(`document.querySelector(".found .large")?.textContent.startsWith("Judged by eye")`)
	p.pushButton(".found", "Use these tissues")
	p.waitFor(`v.palettes.some(q => q.chosen && q.byEye)`)
	s = p.session()
	if now, _ := s.PaletteByID(s.Palette); now.Measured == nil || now.Measured.Way != "eye" || now.Measured.Seen.Cyan.Density != 0.9 {
		t.Errorf("the palette taken is %+v", now.Measured)
	}
	if rests := eval[string](p, `JSON.parse(threeply.view()).rests`); !strings.Contains(rests, "Judged by eye") {
		t.Error(rests)
	}
	p.command("undo", nil)
	p.command("undo", nil)
	p.run(`document.querySelector(".eye").open = false`)
	if got := p.session().Palette; got != before {
		t.Errorf("after undo it prints with %s", got)
	}

	// Points that were set by hand are kept, and lie there again when the scan is opened again
	// after a reload; and so is a pigment that was chosen and not yet added.
	p.run(`document.querySelector(".flatbed").open = true`)
	p.pushButton(".flatbed", "Point again")
	for _, at := range [][2]int{{40, 60}, {90, 60}} {
		p.run(fmt.Sprintf(`(() => { const c = document.querySelector(".flatbed canvas"), { left, top } = c.getBoundingClientRect(); c.dispatchEvent(new MouseEvent("click", { clientX: left + %d, clientY: top + %d })); })()`, at[0], at[1]))
	}
	p.waitFor(`v.filled["scan.points"].split("\n").at(-1).split(" ").length === 4`)
	p.command("station", map[string]any{"id": "tissues"})
	choose := `document.querySelector(".tissue h3 [aria-expanded=true]")?.closest(".tissue").querySelector(".adding select")`
	p.run(`if (!(` + choose + `)) document.querySelector(".tissue h3 button").click()`)
	p.waitFor(choose + ` !== undefined`)
	chosen := eval[string](p, `(() => { const list = `+choose+`; list.value = list.options[list.options.length - 1].value; list.dispatchEvent(new Event("change", { bubbles: true })); return list.value; })()`)
	p.waitFor(fmt.Sprintf(`Object.values(v.filled).includes(%q)`, chosen))
	p.command("sight", map[string]any{"table": "LAYER\theld\tlast\tmatch\tdensity\ncyan\tA1"})
	p.reload() // at once: a page that goes still keeps what was done last
	p.waitFor(idle + ` && ` + fmt.Sprintf(`Object.values(v.filled).includes(%q)`, chosen))
	p.command("station", map[string]any{"id": "tissues"})
	p.run(`if (!(` + choose + `)) document.querySelector(".tissue h3 button").click()`)
	p.waitFor(choose + `?.value === ` + fmt.Sprintf("%q", chosen))
	if s := p.session(); s.Sight == nil || !strings.HasSuffix(s.Sight.Table, "cyan\tA1") {
		t.Errorf("after a reload the session has %+v of what was seen", s.Sight)
	}
	p.command("undo", nil)
	p.command("station", map[string]any{"id": "sheets"})
	p.run(openFlatbed)
	p.upload("#flatbed-1", made(t, "target.txt", []byte(spectra)))
	p.upload("#flatbed-0", made(t, "sheet.tif", file.Bytes()))
	p.waitFor(`document.querySelector(".flatbed .hint[role=status]").textContent === "Now at the last patch of all."`)
	p.pushButton(".flatbed", "Point again")
	p.waitFor(`v.filled["scan.points"] === ""`)
	p.command("fill", map[string]any{"id": "pigment." + eval[string](p, `Object.entries(JSON.parse(threeply.view()).filled).find(([, text]) => text === "`+chosen+`")[0].slice("pigment.".length)`), "text": ""})
	p.run(`document.querySelector(".flatbed").open = false`)
	p.run(choose[:len(choose)-len(`.querySelector(".adding select")`)] + `.querySelector("h3 button").click()`) // closed again
}

// otherTarget is a target's values, each that of the patch five further on.
func otherTarget(spectra string) string {
	head, rest, _ := strings.Cut(spectra, "BEGIN_DATA\n")
	data, tail, _ := strings.Cut(rest, "END_DATA")
	lines := strings.Split(strings.TrimSpace(data), "\n")
	out := head + "BEGIN_DATA\n"
	for i, line := range lines {
		id, _, _ := strings.Cut(line, " ")
		_, values, _ := strings.Cut(lines[(i+5)%len(lines)], " ")
		out += id + " " + values + "\n"
	}
	return out + "END_DATA" + tail
}

// writeBesideSlowView writes into a field of what was seen while a view of the page, begun late
// in a chain of timers, takes long: browsers let such a chain wait, so that the view which is
// asked for by what is written overtakes it. What was written must not vanish then.
func (p *page) writeBesideSlowView(t *testing.T, field int, value string) {
	t.Helper()
	if lost := eval[bool](p, fmt.Sprintf(`new Promise((done) => {
		const view = window.threeply.view, input = document.querySelectorAll(".eye input")[%d];
		const [between, beside] = [new MessageChannel(), new MessageChannel()];
		let deep = false;
		window.threeply.view = () => {
			const text = view();
			if (deep) {
				deep = false;
				between.port1.postMessage("");
				for (const end = performance.now() + 40; performance.now() < end;);
			}
			return text;
		};
		between.port2.onmessage = () => {
			input.value = %q;
			input.dispatchEvent(new Event("input"));
			window.threeply.view = view;
			beside.port1.postMessage("");
		};
		beside.port2.onmessage = () => {
			const lost = input.value === "";
			if (lost || JSON.parse(view()).idle) done(lost);
			else setTimeout(() => beside.port1.postMessage(""));
		};
		const chain = (left) => setTimeout(() => {
			if (left > 0) return chain(left - 1);
			deep = true;
			window.threeplyPage.changed();
		});
		chain(8);
	})`, field, value)); lost {
		t.Error("what was written while an older view was shown is gone")
	}
}

// TestPastedReadingsTellDrift pastes readings of the sheet of a palette that was measured before,
// and looks for what has drifted since.
func TestPastedReadingsTellDrift(t *testing.T) {
	p := demo(t)
	earlier, _ := pigment.PaletteByID("arylide")
	earlier.ID, earlier.Name = "spring", "I 1" // as short as no word is in German
	earlier.Measured = &pigment.Measurement{Date: "2026-03-01", Way: "spectra", Sheets: 1}
	for _, printer := range pigment.Printers() {
		tissue := earlier.Layer(printer)
		tissue.Hardening.Wedge = []pigment.Printed{{LogExposure: -1.2}, {LogExposure: -0.6, Micron: tissue.CoatMicron / 2}, {LogExposure: 0, Micron: tissue.CoatMicron}}
		earlier = earlier.WithLayer(printer, tissue)
	}
	p.command("takePalette", map[string]any{"palette": earlier})
	p.command("station", map[string]any{"id": "sheets"})
	p.run(`for (let part = document.querySelector("[data-sheet=measured] textarea"); part; part = part.parentElement) if (part.tagName === "DETAILS") part.open = true`)
	p.paste(`[data-sheet="measured"] textarea`, string(readTestSheet(earlier, "arylide")))
	p.press(kb.Tab)
	p.pushButton(`[data-sheet="measured"]`, "Read")
	p.waitFor(`[...document.querySelectorAll(".found h4")].some((head) => head.textContent === "Drifted")`)
	drifted := eval[string](p, `[...document.querySelectorAll(".found h4")].find((head) => head.textContent === "Drifted")?.nextElementSibling.textContent ?? ""`)
	if !strings.Contains(drifted, "since 2026-03-01 (I 1): yellow: load") || strings.Count(drifted, "stops") != 3 {
		t.Errorf("what has drifted: %q", drifted)
	}
	p.run(`document.querySelector("[data-sheet=measured] textarea").value = ""; for (const part of document.querySelectorAll("#panel-sheets details[open]")) part.open = false`)
	p.command("undo", nil)
}

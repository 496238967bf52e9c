package browsertest

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"golang.org/x/net/html"

	"threeply/proof/bag/bagtest"
	"threeply/proof/parcel"
	"threeply/proof/session"
)

// TestCuratorAndPrintmaker goes through two people's reviews. The curator holds a print beside
// another palette, pins a note where she clicks, writes it, decides, has the page loaded
// again amid that, and saves what is kept of it: the sheet, the session with its scans, and
// the archive package, which is a valid bag. The printmaker drops the session's file into
// another browser, where everything comes back, changes the order and prints the process sheet.
// Both sheets leave in German, and what the curator wrote stays.
// (The officer's is TestOfficer.)
func TestCuratorAndPrintmaker(t *testing.T) {
	p := pier(t)
	folder := p.downloads()
	p.command("look", map[string]any{"id": "beside"})
	p.run(`[...document.querySelectorAll("#rail button")].find(b => b.textContent === "hold").click()`)
	p.waitFor(`v.held.length === 1 && v.frames[0].id === "held-1"`)
	p.command("palette", map[string]any{"id": "chrome"})
	p.rest()
	picture := p.shot()
	if got := changed(shifted(picture, p.frameRect("print").Min.X-p.frameRect("held-1").Min.X, 0), picture, p.frameRect("print").Inset(4), 2); got < 0.1 {
		t.Errorf("the held print and that of the other palette differ in %.2f %% only", 100*got)
	}
	p.click("#pull-review")
	p.waitFor(`document.getElementById("panel-review").checkVisibility()`)
	pressed := func(label string) {
		p.run(`[...document.querySelectorAll("#panel-review button")].find(b => b.textContent === ` + quoted(label) + `).click()`)
	}
	pressed("Pin a note")
	p.waitFor(`v.tool === "note" && document.querySelector("#tool select").selectedOptions[0].text === "pin a note"`)
	p.rest() // the stage sees the tool
	frame := p.frameRect("print")
	p.clickAt(float64(frame.Min.X+frame.Dx()/2), float64(frame.Min.Y+frame.Dy()/2))
	p.waitFor(`v.notes.length === 1 && v.notes[0].chosen && v.tool === "pan" && document.querySelectorAll("#lines .notes .disc").length > 0`)
	p.waitFor(`document.activeElement === document.querySelector(".note-body input")`) // what is typed next is its title
	const shortened = `document.activeElement.nextElementSibling?.textContent`
	p.run(`document.activeElement.dispatchEvent(new InputEvent("beforeinput", { inputType: "insertFromPaste", data: "x".repeat(2 + document.activeElement.maxLength) }))`)
	if said := eval[string](p, shortened+` ?? ""`); !strings.HasPrefix(said, "Shortened to ") {
		t.Errorf("of a text that is too long for its field the page says %q", said)
	}
	p.typed("Bowl")
	p.waitFor(`v.notes[0].title === "Bowl" && document.querySelector(".note-body .refused").textContent === ""`)
	const log = `document.querySelector("#panel-review details[data-fold='Measured, assumed, chosen']")`
	p.run(log + `.open = true`)
	p.waitFor(log + `.querySelectorAll("dt").length > 10`)
	p.command("fill", map[string]any{"id": "proof.file", "text": "tiff"})
	p.command("fill", map[string]any{"id": "film.table", "text": "0 %\t0.05"})
	p.waitFor(idle)
	p.reload()
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	const table = `document.querySelector("#panel-sheets textarea[aria-label^='Table of the film']")`
	p.command("station", map[string]any{"id": "sheets"}) // what was filled in there and not used yet stands again
	p.waitFor(`document.querySelector("#panel-sheets input[value=tiff]")?.checked && ` + table + `.value === "0 %\t0.05"`)
	p.command("station", map[string]any{"id": "review"})
	if v := p.view(); v.Station != "review" || v.Frames[0].ID != "held-1" {
		t.Errorf("loaded again, the page shows the drawer %q and at the left %q", v.Station, v.Frames[0].ID)
	}
	p.command("title", map[string]any{"text": "Sheets"}) // a word of the page too
	p.run(`(() => { // the object, from a table of many
		const input = document.querySelector("#panel-review input[type=file][accept^='.csv']");
		const table = new DataTransfer();
		table.items.add(new File(["file,number,collection\nother.tif,1,Mill\npier_green.png,1937.0412,\"=1+1 <b>\"\n"], "sets.csv"));
		input.files = table.files;
		input.dispatchEvent(new Event("change"));
	})()`)
	p.waitFor(`v.identity.number === "1937.0412" && v.identity.collection === "=1+1 <b>"`)
	p.command("point", map[string]any{"x": float64(frame.Dx() / 3), "y": float64(frame.Min.Y+frame.Dy()/3) - float64(p.stage().Min.Y)})
	p.command("decide", map[string]any{"choice": "This one", "by": "IM"})
	p.rest()
	if said := eval[string](p, log+`.textContent`); !strings.Contains(said, "This one") || !strings.Contains(said, "IM") { // a fold that was open is open again
		t.Errorf("the log says %q", said)
	}
	p.run(log + `.open = false`)
	state := p.session()
	if len(state.Notes) != 1 || state.Notes[0].Title != "Bowl" || len(state.Held) != 1 {
		t.Errorf("loaded again, there are the notes %+v and %d held prints", state.Notes, len(state.Held))
	}

	p.measureTable(t, "a filled Review", "")
	p.speak("de", "de")
	pressed("Beratungsblatt")
	sheet := waitFile(t, folder, "review.html")
	checkPrinted(t, sheet, 0)
	own := checkGerman(t, sheet, "Beratung · Sheets · 1937.0412", "Entscheidung", "Worauf es beruht")
	for _, words := range []string{"Sheets", "Bowl", "This one"} {
		if !slices.Contains(own, words) {
			t.Errorf("the sheet does not say %q as it was written: %q", words, own)
		}
	}
	p.speak("en", "en-GB")
	pressed("Session with its scans")
	kept := waitFile(t, folder, "session.zip")
	data, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}
	got, err := parcel.Read("session.zip", bytes.NewReader(data), int64(len(data)))
	if err != nil || len(got.Notes) > 0 || len(got.Scans) != 3 || !got.Session.Equal(state) {
		t.Errorf("the session's file: %q, %d scans (%v)", got.Notes, len(got.Scans), err)
	}
	pressed("Archive package")
	if faults := bagtest.Faults(unzipped(t, waitFile(t, folder, "archive.zip"))); len(faults) > 0 {
		t.Errorf("the archive package: %s", strings.Join(faults, "\n"))
	}
	p.speak("de", "de")
	p.command("print", map[string]any{"widthMm": 20.0}) // small negatives
	checkStoppedFiles(t, p, folder)
	checkFolder(t, p)
	pressed("Alle Dateien")
	checkAllFiles(t, unzipped(t, waitFile(t, folder, "files.zip")))
	p.speak("en", "en-GB")

	other := scans(t)
	sheets := other.downloads()
	other.drop(kept)
	other.waitFor(`v.title === ` + quoted(state.Title) + ` && v.undo === "opened session" && v.idle`)
	if back := other.session(); !back.Equal(state) {
		t.Error("in another browser the session is another one")
	}
	if v := other.view(); v.Station != "review" || v.Frames[0].ID != "held-1" {
		t.Errorf("in another browser it shows the drawer %q and at the left %q", v.Station, v.Frames[0].ID)
	}
	other.command("order", map[string]any{"order": "mcy"})
	other.command("station", map[string]any{"id": "sheets"})
	other.speak("de", "de")
	other.run(`[...document.querySelectorAll("#panel-sheets button")].find(b => b.textContent === "Arbeitsblatt").click()`)
	page := waitFile(t, sheets, "process.html")
	other.speak("en", "en-GB")
	checkGerman(t, page, "Sheets · Arbeitsblatt", "Was schaden kann")
	checkPrinted(t, page, 6)
	checkManyNotes(t, other)
	other.command("station", map[string]any{"id": ""})
}

// checkManyNotes opens a session with as many notes as there can be, whose titles and texts are
// markup and run from right to left: all of it stays text, and the page holds a part of them.
func checkManyNotes(t *testing.T, p *page) {
	t.Helper()
	state := p.session()
	hostile := `<img src=x onerror="window.hit=1"> & "\u202eabc\u202c 'x' `
	for i := range session.MostNotes {
		state.Notes = append(state.Notes, session.Note{
			N: 10 + i, Source: 1, X: float64(i % 71), Y: float64(i / 71), Title: hostile + strconv.Itoa(i), Text: "<b>",
			By: "<i>", At: "2026-03-02T10:20:00Z", State: session.NoteOpen, Seen: state.Shown(),
		})
	}
	state.Notes = state.Notes[len(state.Notes)-session.MostNotes:]
	state.Notes[2500].Text = strings.Repeat("<b>", 1300)
	text, err := session.Write(state)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "many.json")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	p.command("station", map[string]any{"id": "review"})
	p.drop(file)
	p.waitFor(`v.notesAll === 5000 && ` + idle)
	p.command("noteGo", map[string]any{"n": 2510})
	p.waitFor(`v.notesFrom === 2500 && document.querySelector(".note-one [aria-expanded=true] bdi")?.textContent.endsWith(" 2500")`)
	since := p.now()
	p.command("palette", map[string]any{"id": "earth"})
	p.command("pan", map[string]any{"dx": 3, "dy": 0})
	p.rest()
	t.Logf("%d notes: longest task of another palette and a step aside %.0f ms", session.MostNotes, p.longest(since).Duration)
	p.measureTable(t, "a Review with thousands of notes", "")
	shown := eval[[4]int](p, `[document.querySelectorAll(".note-one").length, document.querySelectorAll("#lines .notes .disc").length,
		document.querySelectorAll("img[src=x], .note-list b, .note-list i").length + (window.hit ?? 0), document.querySelector(".note-one [aria-expanded=true] bdi").textContent.startsWith("<img") ? 1 : 0]`)
	if shown[0] != 50 || shown[1] == 0 || shown[1] > 1000 || shown[2] != 0 || shown[3] != 1 {
		t.Errorf("listed, numbered, elements of markup, title as text: %v", shown)
	}
}

// neutral is what a sheet says alike in all languages: sums, versions, the time's zone.
var neutral = regexp.MustCompile(`\b[0-9a-f]{64}\b|Threeply [\w.+-]+|UTC`)

// checkGerman asks for a sheet in German, with a title and headings, and returns what is
// marked in it as a person's words.
func checkGerman(t *testing.T, file string, title string, headings ...string) (own []string) {
	t.Helper()
	read, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer read.Close()
	doc, err := html.Parse(read)
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for n := range doc.Descendants() {
		switch {
		case n.Type == html.ElementNode && n.Data == "html" && !slices.Contains(n.Attr, html.Attribute{Key: "lang", Val: "de"}):
			t.Errorf("%s says of itself %v", filepath.Base(file), n.Attr)
		case n.Type == html.TextNode && slices.Contains(n.Parent.Attr, html.Attribute{Key: "translate", Val: "no"}):
			own = append(own, n.Data)
		case n.Type == html.TextNode && n.Parent.Data != "style":
			texts = append(texts, strings.TrimSpace(neutral.ReplaceAllString(n.Data, "")))
		}
	}
	for _, heading := range append(headings, title) {
		if !slices.Contains(texts, heading) {
			t.Errorf("%s has no %q", filepath.Base(file), heading)
		}
	}
	f := newForeign(t)
	f.look(texts, own)
	for text := range f.found {
		t.Errorf("%s: no German for %q", filepath.Base(file), text)
	}
	return own
}

// unzipped are the files of a ZIP archive, by their names in its one folder.
func unzipped(t *testing.T, file string) map[string]string {
	t.Helper()
	archive, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer archive.Close()
	contents := map[string]string{}
	for _, f := range archive.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		_, path, _ := strings.Cut(f.Name, "/")
		contents[path] = string(content)
	}
	return contents
}

// checkAllFiles asks for every kind of file that leaves, each of the kind that its name says, and
// for a report on register in German.
func checkAllFiles(t *testing.T, files map[string]string) {
	t.Helper()
	for name, begins := range map[string]string{
		"proof.tif": "II*", "reference.tif": "II*", "red-plate-in-register.tif": "II*", "green-plate-in-register.tif": "II*", "blue-plate-in-register.tif": "II*",
		"reference-in-register.tif": "II*", "yellow-negative.tif": "II*", "magenta-negative.tif": "II*", "cyan-negative.tif": "II*",
		"process.html": "<!doctype html>", "review.html": "<!doctype html>", "register.html": "<!doctype html>",
		"register.csv": "\ufefffilter", "verdict.csv": "\ufeffquantity", "curves.csv": "\ufeffscene_L", "session.json": "{", "tissues.icc": "",
		"test-sheet.html": "<!doctype html>", "test-sheet.json": "{", "readings.csv": "\ufeff", "film-wedge.tif": "II*",
		"test-sheet-yellow.tif": "II*", "test-sheet-magenta.tif": "II*", "test-sheet-cyan.tif": "II*",
	} {
		if content, ok := files["sheets-"+name]; !ok || len(content) < 100 || !strings.HasPrefix(content, begins) {
			t.Errorf("all files: %s is there: %v, of %d bytes, begins %.20q", name, ok, len(content), content)
		}
	}
	if len(files) != 24 {
		t.Errorf("all files are %d", len(files))
	}
	report := filepath.Join(t.TempDir(), "register.html")
	if err := os.WriteFile(report, []byte(files["sheets-register.html"]), 0o600); err != nil {
		t.Fatal(err)
	}
	checkGerman(t, report, "Passer von Sheets", "Die Scans", "Wo gemessen wurde")
}

// papers are those that sheets are printed on, with what the sheets' margins leave of them.
var papers = []struct {
	name          string
	wide, high    float64 // inches
	width, height int64   // CSS pixels within the margins
}{{"A4", 8.27, 11.69, 680, 998}, {"Letter", 8.5, 11, 703, 931}}

// checkPrinted prints a sheet to PDF on A4 and on Letter, and sees that nothing of it is wider than
// the paper and nothing that belongs together longer. The sheet has at least so many leaves that begin a page.
func checkPrinted(t *testing.T, file string, leastLeaves int) {
	t.Helper()
	p := openBlank(t, papers[0].width, papers[0].height)
	p.goTo("file://" + filepath.ToSlash(file))
	for _, paper := range papers {
		p.resize(paper.width, paper.height)
		var pdf []byte
		p.do("printing", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			printed, err := cdp.Call(ctx, target, cdppage.PrintToPDF, cdppage.PrintToPDFParams{PaperWidth: paper.wide, PaperHeight: paper.high, PreferCSSPageSize: new(true)})
			if err != nil {
				return err
			}
			pdf = printed.Data
			_, err = cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
			return err
		}))
		leaves := eval[int](p, `document.querySelectorAll(".leaf").length`)
		pages := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1))
		t.Logf("%s on %s: %d leaves, %d pages", filepath.Base(file), paper.name, leaves, pages)
		if leaves < leastLeaves || pages <= leaves {
			t.Errorf("%s on %s: %d leaves and what stands before them come on %d pages", filepath.Base(file), paper.name, leaves, pages)
		}
		for _, cut := range eval[[]string](p, fmt.Sprintf(`[...document.body.querySelectorAll("*")].filter(e => {
			const box = e.getBoundingClientRect();
			return box.right > %d || e.matches(".leaf, .steps li, tr, figure, .whole") && box.height > %d ||
				getComputedStyle(e).overflowX !== "visible" && e.scrollWidth > e.clientWidth + 1;
		}).map(e => e.tagName + " " + e.className + " “" + e.textContent.trim().slice(0, 40) + "”")`, paper.width+1, paper.height)) {
			t.Errorf("%s: cut off on %s: %s", filepath.Base(file), paper.name, cut)
		}
	}
}

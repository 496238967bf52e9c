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
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"threeply/proof/bag/bagtest"
	"threeply/proof/parcel"
)

// TestCuratorAndPrintmaker goes through two people's reviews. The curator holds a print beside
// another palette, pins a note where she clicks, writes it, decides, has the page loaded
// again amid that, and saves what is kept of it: the sheet, the session with its scans, and
// the archive package, which is a valid bag. The printmaker drops the session's file into
// another browser, where everything comes back, changes the order and prints the process sheet.
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
	p.waitFor(`v.tool === "note"`)
	p.rest() // the stage sees the tool
	frame := p.frameRect("print")
	p.clickAt(float64(frame.Min.X+frame.Dx()/2), float64(frame.Min.Y+frame.Dy()/2))
	p.waitFor(`v.notes.length === 1 && v.notes[0].chosen && v.tool === "pan" && document.querySelectorAll("#lines .notes .disc").length > 0`)
	p.run(`document.querySelector(".note-body input").focus()`)
	p.typed("Bowl")
	p.waitFor(`v.notes[0].title === "Bowl"`)
	p.waitFor(idle)
	p.reload()
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	if v := p.view(); v.Station != "review" || v.Frames[0].ID != "held-1" {
		t.Errorf("loaded again, the page shows the drawer %q and at the left %q", v.Station, v.Frames[0].ID)
	}
	p.command("identify", map[string]any{"number": "1937.0412"})
	p.command("decide", map[string]any{"choice": "This one", "by": "IM"})
	p.rest()
	state := p.session()
	if len(state.Notes) != 1 || state.Notes[0].Title != "Bowl" || len(state.Held) != 1 {
		t.Errorf("loaded again, there are the notes %+v and %d held prints", state.Notes, len(state.Held))
	}

	pressed("Review sheet")
	page, err := os.ReadFile(waitFile(t, folder, "review.html"))
	if err != nil || !bytes.Contains(page, []byte("Bowl")) || !bytes.Contains(page, []byte("This one")) {
		t.Errorf("the sheet of %d bytes does not say what was noted and decided (%v)", len(page), err)
	}
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
	checkArchive(t, waitFile(t, folder, "archive.zip"))

	other := scans(t)
	sheets := other.downloads()
	other.drop(kept)
	other.waitFor(`v.title === ` + quoted(state.Title) + ` && v.undo === "opened session" && v.idle`)
	if back := other.session(); !back.Equal(state) {
		t.Error("in another browser the session is another one")
	}
	other.command("order", map[string]any{"order": "mcy"})
	other.command("station", map[string]any{"id": "sheets"})
	other.run(`[...document.querySelectorAll("#panel-sheets button")].find(b => b.textContent === "Process sheet").click()`)
	checkPrinted(t, waitFile(t, sheets, "process.html"))
	other.command("station", map[string]any{"id": ""})
}

// checkArchive holds an archive package against the rules of BagIt.
func checkArchive(t *testing.T, file string) {
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
	if faults := bagtest.Faults(contents); len(faults) > 0 {
		t.Errorf("%d files: %s", len(contents), strings.Join(faults, "\n"))
	}
}

// checkPrinted prints a sheet to PDF on A4, and sees that nothing of it is wider than the
// paper and nothing that belongs together longer.
func checkPrinted(t *testing.T, file string) {
	t.Helper()
	const width, height = 680, 998 // CSS pixels that the sheet's margins leave of A4
	p := openBlank(t, width, height)
	p.goTo("file://" + filepath.ToSlash(file))
	var pdf []byte
	p.do("printing", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		printed, err := cdp.Call(ctx, target, cdppage.PrintToPDF, cdppage.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69, PreferCSSPageSize: new(true)})
		if err != nil {
			return err
		}
		pdf = printed.Data
		_, err = cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		return err
	}))
	leaves := eval[int](p, `document.querySelectorAll(".leaf").length`)
	pages := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1))
	t.Logf("%s: %d leaves, %d pages", filepath.Base(file), leaves, pages)
	if leaves < 6 || pages <= leaves {
		t.Errorf("%s: %d leaves and what stands before them come on %d pages", filepath.Base(file), leaves, pages)
	}
	for _, cut := range eval[[]string](p, fmt.Sprintf(`[...document.body.querySelectorAll("*")].filter(e => {
		const box = e.getBoundingClientRect();
		return box.right > %d || e.matches(".leaf, .steps li, tr, figure, .whole") && box.height > %d ||
			getComputedStyle(e).overflowX !== "visible" && e.scrollWidth > e.clientWidth + 1;
	}).map(e => e.tagName + " " + e.className + " “" + e.textContent.trim().slice(0, 40) + "”")`, width+1, height)) {
		t.Errorf("%s: cut off on A4: %s", filepath.Base(file), cut)
	}
}

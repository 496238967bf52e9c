package browsertest

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"threeply/proof/bag/bagtest"
	"threeply/proof/parcel"
)

// TestReview pins a note where a person clicks, writes it and a decision, and saves what is
// kept of it: the sheet, the session with its scans, and the archive package, which is a
// valid bag. Dropped into another browser, the session's file brings everything back.
func TestReview(t *testing.T) {
	p := pier(t)
	folder := p.downloads()
	p.click("#pull-review")
	p.waitFor(`document.getElementById("panel-review").checkVisibility()`)
	p.run(`[...document.querySelectorAll("#panel-review button")].find(b => b.textContent === "Pin a note").click()`)
	p.waitFor(`v.tool === "note"`)
	p.rest() // the stage sees the tool
	frame := p.frameRect("print")
	p.clickAt(float64(frame.Min.X+frame.Dx()/2), float64(frame.Min.Y+frame.Dy()/2))
	p.waitFor(`v.notes.length === 1 && v.notes[0].chosen && v.tool === "pan" && document.querySelectorAll("#lines .notes .disc").length > 0`)
	p.run(`document.querySelector(".note-body input").focus()`)
	p.typed("Bowl")
	p.waitFor(`v.notes[0].title === "Bowl"`)
	p.command("identify", map[string]any{"number": "1937.0412"})
	p.command("decide", map[string]any{"choice": "This one", "by": "IM"})
	p.rest()
	state := p.session()

	p.run(`[...document.querySelectorAll("#panel-review button")].find(b => b.textContent === "Review sheet").click()`)
	page, err := os.ReadFile(waitFile(t, folder, "review.html"))
	if err != nil || !bytes.Contains(page, []byte("Bowl")) || !bytes.Contains(page, []byte("This one")) {
		t.Errorf("the sheet of %d bytes does not say what was noted and decided (%v)", len(page), err)
	}
	p.run(`[...document.querySelectorAll("#panel-review button")].find(b => b.textContent === "Session with its scans").click()`)
	kept := waitFile(t, folder, "session.zip")
	data, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}
	got, err := parcel.Read("session.zip", bytes.NewReader(data), int64(len(data)))
	if err != nil || len(got.Notes) > 0 || len(got.Scans) != 3 || !got.Session.Equal(state) {
		t.Errorf("the session's file: %q, %d scans (%v)", got.Notes, len(got.Scans), err)
	}
	p.run(`[...document.querySelectorAll("#panel-review button")].find(b => b.textContent === "Archive package").click()`)
	archive, err := zip.OpenReader(waitFile(t, folder, "archive.zip"))
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

	other := scans(t)
	other.drop(kept)
	other.waitFor(`v.title === ` + quoted(state.Title) + ` && v.undo === "opened session" && v.idle`)
	if back := other.session(); !back.Equal(state) {
		t.Error("in another browser the session is another one")
	}
}

package desk

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/session"
)

// blockNames are the blocks of notes on a disk.
func (d *disk) blockNames() (names []string) {
	for key := range d.records {
		if key.Store == storeSteps && strings.Contains(key.Name, "/"+blockPrefix) {
			names = append(names, key.Name)
		}
	}
	return names
}

// A set with thousands of notes is kept: a step that changes none of them stores none, one
// that changes one stores few, everything comes back after a reload, and nothing is left of
// notes that no step has any more.
func TestThousandsOfNotesAreKept(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	id := b.desk.Open().ID
	many := b.desk.Open().State
	for i := range session.MostNotes {
		title := fmt.Sprintf("<b>%d</b> \u202eabc", i)
		many.Notes = append(many.Notes, session.Note{N: i + 1, Source: 1, X: float64(i % 7), Y: 3, Title: title, At: "2026-03-02T10:20:00Z", State: session.NoteOpen, Seen: many.Shown()})
	}
	text, err := session.Write(many)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.desk.OpenSession("many.json", string(text)); err != nil {
		t.Fatal(err)
	}
	b.run()
	if n, want := len(d.blockNames()), session.MostNotes/session.NotesEach; n != want {
		t.Fatalf("%d notes lie in %d blocks, want %d", session.MostNotes, n, want)
	}
	stored := func(c command.Command) (bytes int) {
		t.Helper()
		before := maps.Clone(d.records)
		b.do(c)
		for key, text := range d.records {
			if before[key] != text {
				bytes += len(text)
			}
		}
		return bytes
	}
	if n := stored(command.Palette{ID: "earth"}); n > 20_000 {
		t.Errorf("another palette stores %d bytes", n)
	}
	title := "Sails"
	if n := stored(command.EditNote{N: 1234, Title: &title}); n > 150_000 || n < 2000 {
		t.Errorf("an edited note stores %d bytes", n)
	}
	want := b.desk.Open().State
	b.close()

	b = d.newTab(t, id)
	if doc := b.desk.Open(); !doc.State.Equal(want) {
		t.Fatal("after a reload the session is another one")
	}
	if n := stored(command.EditNote{N: 1234, State: new(session.NoteAgreed)}); n > 150_000 {
		t.Errorf("after a reload an edited note stores %d bytes", n)
	}
	for range 3 { // to before the palette
		if err := b.desk.Open().Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if s := b.desk.Open().State; !s.Equal(many) {
		t.Error("undone, the session is not the one that was opened")
	}
}

// Of notes that no step has any more nothing is left.
func TestNotesThatAreGoneAreDeleted(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	for range 2*session.NotesEach + 1 {
		b.do(command.Note{X: 1, Y: 1, At: "2026-03-02T10:20:00Z"})
	}
	b.do(command.DropNote{N: 1})
	if n := len(d.blockNames()); n <= 3 {
		t.Errorf("before and after lie in %d blocks", n)
	}
	for range 101 { // beyond the depth of the history
		b.do(command.Palette{ID: "earth"})
		b.do(command.Palette{ID: "chrome"})
	}
	if n := len(d.blockNames()); n != 3 {
		t.Errorf("%d blocks are left, want 3", n)
	}
}

// A part of the notes that is gone is said, and nothing is stored in its place.
func TestLostNotesAreSaid(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	id := b.desk.Open().ID
	for range session.NotesEach + 1 {
		b.do(command.Note{X: 1, Y: 1, At: "2026-03-02T10:20:00Z"})
	}
	b.close()
	for _, name := range d.blockNames() {
		d.records[Key{storeSteps, name}] = `{"notes":[{"n":`
	}
	before := maps.Clone(d.records)
	b = d.newTab(t, id)
	if err := b.said("a part of its notes is damaged"); err != nil {
		t.Error(err)
	}
	for key, text := range before {
		if key.Store != storeCards && d.records[key] != text {
			t.Errorf("%v is another one", key)
		}
	}
}

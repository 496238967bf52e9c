package command

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// manyNotes is an opened session with as many notes as there can be.
func manyNotes() session.State {
	s := sessiontest.Opened()
	s.Notes = nil
	for i := range session.MostNotes {
		s.Notes = append(s.Notes, session.Note{N: i + 1, Source: 1, X: float64(i % 7), Y: 3, Title: fmt.Sprint("note ", i), At: "2026-03-02T10:20:00Z", State: session.NoteOpen, Seen: s.Shown()})
	}
	return s
}

// edits are as many commands on notes as steps can be undone, all over the list.
func edits() (out []Command) {
	dice := rand.New(rand.NewPCG(1, 2))
	for i := range depth {
		n := 2*dice.IntN(session.MostNotes/2) + 1
		title := fmt.Sprint("edited ", i)
		switch i % 4 {
		case 0:
			out = append(out, MoveNote{N: n, X: 5, Y: 4})
		case 1:
			out = append(out, DropNote{N: n + 1}, Note{X: 2, Y: 2, At: "2026-03-02T10:20:00Z"})
		default:
			out = append(out, EditNote{N: n, Title: &title})
		}
	}
	return out[:depth]
}

// Steps over thousands of notes share all that they do not change, and each comes back as it was.
func TestStepsShareNotes(t *testing.T) {
	h := NewHistory(manyNotes())
	was := []session.State{h.State}
	for _, c := range edits() {
		if err := h.Do(c, ""); err != nil {
			continue // a note that was dropped before
		}
		was = append(was, h.State)
	}
	if len(was) < depth*3/4 {
		t.Fatalf("only %d steps", len(was))
	}
	blocks := map[*session.Note]int{}
	for i := range h.steps {
		if n := len(h.steps[i].state.Notes); n > 0 {
			t.Fatalf("step %d holds a list of %d notes", i, n)
		}
		for _, block := range h.steps[i].notes {
			blocks[&block[0]] = cap(block)
		}
	}
	held := 0
	for _, n := range blocks {
		held += n
	}
	// Each step changes a block at the most, and may begin one.
	if most := session.MostNotes + len(h.steps)*session.NotesEach*5/4; held > most {
		t.Errorf("%d steps hold %d notes, want %d at the most", len(h.steps), held, most)
	}
	for i := len(was) - 1; i >= 0; i-- {
		if !h.State.Equal(was[i]) {
			t.Fatalf("step %d is not what it was", i)
		}
		if err := h.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	for range was {
		if err := h.Redo(); err != nil {
			t.Fatal(err)
		}
	}
	if !h.State.Equal(was[len(was)-1]) {
		t.Error("redone, the last step is not what it was")
	}
}

// Steps that were kept share their notes again once they are gone to.
func TestRestoredStepsShareNotes(t *testing.T) {
	s := manyNotes()
	var steps []Step
	for i := range 5 {
		s.Notes = append([]session.Note(nil), s.Notes...)
		s.Notes[100*i].Title = "other"
		now := s
		steps = append(steps, Step{Number: i, State: func() (session.State, error) { return now, nil }})
	}
	h, err := Restore(steps, 4)
	if err != nil {
		t.Fatal(err)
	}
	for range 4 {
		if err := h.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	blocks := map[*session.Note]bool{}
	for i := range h.steps {
		for _, block := range h.steps[i].notes {
			blocks[&block[0]] = true
		}
	}
	if n, most := len(blocks), session.MostNotes/session.NotesEach+4; n > most {
		t.Errorf("5 steps hold %d blocks, want %d at the most", n, most)
	}
	if want, _ := steps[0].State(); !h.State.Equal(want) {
		t.Error("gone back to, the first step is not what was kept")
	}
}

// BenchmarkThousandsOfNotes reports the memory that a full history over thousands of notes holds.
func BenchmarkThousandsOfNotes(b *testing.B) {
	for b.Loop() {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		h := NewHistory(manyNotes())
		for _, c := range edits() {
			_ = h.Do(c, "") // one that was dropped before
		}
		runtime.GC()
		runtime.ReadMemStats(&after)
		b.ReportMetric(float64(int64(after.HeapAlloc)-int64(before.HeapAlloc))/1e6, "MB-held")
		runtime.KeepAlive(h)
	}
}

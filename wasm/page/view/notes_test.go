package view

import (
	"testing"

	"threeply/proof/session"
)

// Of thousands of notes in a pane those have a number that have room for it, the chosen one
// always; the others are dots, so that every place where a note lies is seen. A few are all
// numbered, wherever they lie.
func TestThousandsOfNotesInAPane(t *testing.T) {
	v, s := looking(t, "beside")
	pane := v.Panes()[0]
	w, h := s.Frame()
	for i := range session.MostNotes {
		s.Notes = append(s.Notes, session.Note{N: i + 1, Source: s.KeySource(), X: float64(i%71) * float64(w-1) / 70, Y: float64(i/71) * float64(h-1) / 70, State: session.NoteOpen})
	}
	v.Noting.Note = 2500
	discs, dots := v.Notes(s, pane)
	if len(discs) > 800 || len(dots) < 2 {
		t.Errorf("%d discs and %d dots", len(discs), len(dots)/2)
	}
	chosen := 0
	near := map[[2]int]bool{}
	mark := func(x, y int) {
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				near[[2]int{x/dotRoom + dx, y/dotRoom + dy}] = true
			}
		}
	}
	for _, d := range discs {
		if d.Chosen {
			chosen++
		}
		mark(int(d.X), int(d.Y))
	}
	for i := 0; i < len(dots); i += 2 {
		mark(dots[i], dots[i+1])
	}
	if chosen != 1 {
		t.Errorf("%d chosen notes have a number", chosen)
	}
	alone := *s
	for i := range s.Notes {
		alone.Notes = s.Notes[i : i+1]
		one, _ := v.Notes(&alone, pane)
		if len(one) == 1 && !near[[2]int{int(one[0].X) / dotRoom, int(one[0].Y) / dotRoom}] {
			t.Fatalf("note %d is seen nowhere", i+1)
		}
	}
	alone.Notes = nil
	for i := range mostDiscs {
		alone.Notes = append(alone.Notes, session.Note{N: i + 1, Source: s.KeySource(), X: float64(w / 2), Y: float64(h / 2)})
	}
	if discs, dots := v.Notes(&alone, pane); len(discs) != mostDiscs || len(dots) > 0 {
		t.Errorf("of %d notes %d have a number, %d are dots", mostDiscs, len(discs), len(dots)/2)
	}
}

// The list shows a page of the notes: the one with the chosen note, or the one that was turned to.
func TestTheListHasPages(t *testing.T) {
	v, s := looking(t, "beside")
	for i := range 2*NotesOnPage + 3 {
		state := session.NoteOpen
		if i%2 == 0 {
			state = session.NoteAgreed
		}
		s.Notes = append(s.Notes, session.Note{N: i + 1, Source: s.KeySource(), State: state})
	}
	shows := func(first, last, all int) {
		t.Helper()
		page, before, n := v.Noting.Listed(s.Notes)
		if len(page) == 0 || page[0].N != first || page[len(page)-1].N != last || n != all || before%NotesOnPage != 0 {
			t.Errorf("the list shows %d notes of %d behind %d: %+v", len(page), n, before, page)
		}
	}
	shows(1, 50, 103)
	do(t, v, s, GoToNote{N: 77})
	shows(51, 100, 103)
	do(t, v, s, ChooseNote{}) // and it stays there
	shows(51, 100, 103)
	do(t, v, s, ListNotes{Page: 9})
	shows(101, 103, 103)
	do(t, v, s, ListNotes{Only: session.NoteAgreed})
	shows(1, 99, 52)
	do(t, v, s, ChooseNote{N: 103})
	shows(101, 103, 52)
	s.Notes = s.Notes[:102] // the chosen one is deleted
	shows(101, 101, 51)
}

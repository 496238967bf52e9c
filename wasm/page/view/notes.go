package view

import (
	"fmt"

	"threeply/proof/filter"
	"threeply/proof/place"
	"threeply/proof/session"
)

// Noting is how the notes are looked at.
type Noting struct {
	Note int    `json:"-"`    // number of the chosen note, 0 for none
	Only string `json:"only"` // notes of this state alone are listed and seen, "" for all
	Page int    `json:"-"`    // of the list, 1 for the first; 0 for the one with the chosen note
}

// NotesOnPage is how many notes are listed at a time.
const NotesOnPage = 50

// Listed are the notes that are listed: those of the page, how many come before them, and how many
// there are on all pages.
func (n Noting) Listed(notes []session.Note) (page []session.Note, before, all int) {
	at := (n.Page - 1) * NotesOnPage
	for i := range notes {
		if !n.Lists(&notes[i]) {
			continue
		}
		if n.Page == 0 && notes[i].N <= n.Note {
			at = all
		}
		all++
	}
	at = min(max(at, 0), max(all-1, 0))
	before = at - at%NotesOnPage
	listed := 0
	for i := range notes {
		if !n.Lists(&notes[i]) {
			continue
		}
		if listed >= before && len(page) < NotesOnPage {
			page = append(page, notes[i])
		}
		listed++
	}
	return page, before, all
}

// Lists tells whether a note is listed.
func (n Noting) Lists(note *session.Note) bool { return n.Only == "" || n.Only == note.State }

// PaneNote is a note in a pane, at a point of the stage.
type PaneNote struct {
	N      int     `json:"n"`
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Chosen bool    `json:"chosen"`
}

// mostDiscs is how many notes a pane shows as numbered discs, wherever they lie. Where there are
// more, one in each square of discRoom CSS pixels is, and the others are dots.
const mostDiscs, discRoom, dotRoom = 60, 56, 4

// Notes places the listed notes in a pane: discs, and as x, y, x, y … those that are dots. Those
// beyond what the pane shows are left out.
func (v *View) Notes(s *session.State, p Pane) (discs []PaneNote, dots []int) {
	discs, dots = []PaneNote{}, []int{}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok {
		return discs, dots
	}
	covered := v.Covered(p)
	var ways [3]place.Path // by source
	for i := range ways {
		ways[i] = place.Plate(s, i)
	}
	var onPlate place.Path
	if p.OwnFrame {
		onPlate = ways[s.Assign[filter.Of(p.Plate)]]
	}
	for i := range s.Notes {
		note := &s.Notes[i]
		if !v.Noting.Lists(note) {
			continue
		}
		x, y, ok := ways[note.Source].Back(note.X, note.Y)
		if !ok {
			continue
		}
		if p.OwnFrame {
			x, y = onPlate.Apply(x, y)
		}
		if x, y = toStage.Apply(x, y); !within(covered, x, y) {
			continue
		}
		x, y = v.OnStage(x, y)
		discs = append(discs, PaneNote{note.N, hundredth(x), hundredth(y), note.N == v.Noting.Note})
	}
	if len(discs) <= mostDiscs {
		return discs, dots
	}
	return thinned(discs)
}

// thinned parts notes that are too many into discs that can be read, the chosen one among them,
// and dots, of which none lies on another.
func thinned(all []PaneNote) (discs []PaneNote, dots []int) {
	type square struct{ x, y int }
	in := func(n PaneNote, side float64) square { return square{int(n.X / side), int(n.Y / side)} }
	taken, dotted := map[square]bool{}, map[square]bool{}
	for _, n := range all {
		if n.Chosen {
			taken[in(n, discRoom)] = true
		}
	}
	for _, n := range all {
		switch disc, dot := in(n, discRoom), in(n, dotRoom); {
		case n.Chosen || !taken[disc]:
			taken[disc] = true
			discs = append(discs, n)
		case !dotted[dot]:
			dotted[dot] = true
			dots = append(dots, int(n.X), int(n.Y))
		}
	}
	return discs, dots
}

type (
	// ChooseNote chooses a note, or lets go of it.
	ChooseNote struct {
		N int `json:"n,omitempty"`
	}
	// GoToNote chooses a note and brings its place into the middle.
	GoToNote struct {
		N int `json:"n"`
	}
	// ListNotes lists the notes of one state alone, "" for all, on so many pages the one of a
	// number, 0 for that of the chosen note.
	ListNotes struct {
		Only string `json:"only"`
		Page int    `json:"page,omitempty"`
	}
)

func (c ChooseNote) apply(v *View, on Subject) error {
	if c.N == 0 { // the list stays where it is
		_, before, _ := v.Noting.Listed(on.Notes)
		v.Noting.Page = before/NotesOnPage + 1
	}
	v.Noting.choose(c.N)
	return nil
}

func (c GoToNote) apply(v *View, on Subject) error {
	i := on.NoteOf(c.N)
	if i < 0 {
		return fmt.Errorf("there is no note %d", c.N)
	}
	v.Noting.choose(c.N)
	note := on.Notes[i]
	x, y, ok := place.OnKey(on.State, note.Source, note.X, note.Y)
	if !ok {
		return nil
	}
	if v.Look == "marks" || v.Look == "board" { // places of the key are not seen there
		v.turnTo("beside", on.State)
	}
	v.goTo(x, y)
	return nil
}

func (c ListNotes) apply(v *View, _ Subject) error {
	if !isNoteState(c.Only) {
		return fmt.Errorf("no note is “%.20s”", c.Only)
	}
	if c.Page < 0 {
		return fmt.Errorf("there is no page %d", c.Page)
	}
	v.Noting.Only, v.Noting.Page = c.Only, c.Page
	return nil
}

// choose chooses a note, and has the list show it; 0 is none.
func (n *Noting) choose(note int) {
	n.Note = note
	if note != 0 {
		n.Page = 0
	}
}

func isNoteState(state string) bool {
	return state == "" || state == session.NoteOpen || state == session.NoteAgreed || state == session.NotePrinter
}

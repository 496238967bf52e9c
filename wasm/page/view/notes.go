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
}

// Lists tells whether a note is listed.
func (n Noting) Lists(note session.Note) bool { return n.Only == "" || n.Only == note.State }

// PaneNote is a note in a pane, at a point of the stage.
type PaneNote struct {
	N      int     `json:"n"`
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Chosen bool    `json:"chosen"`
}

// Notes places the listed notes in a pane. Those beyond what the pane shows are left out.
func (v *View) Notes(s *session.State, p Pane) []PaneNote {
	out := []PaneNote{}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok {
		return out
	}
	covered := v.Covered(p)
	for _, note := range s.Notes {
		x, y, ok := place.OnKey(s, note.Source, note.X, note.Y)
		if !ok || !v.Noting.Lists(note) {
			continue
		}
		if p.OwnFrame {
			x, y = place.Plate(s, s.Assign[filter.Of(p.Plate)]).Apply(x, y)
		}
		if x, y = toStage.Apply(x, y); !within(covered, x, y) {
			continue
		}
		x, y = v.OnStage(x, y)
		out = append(out, PaneNote{note.N, hundredth(x), hundredth(y), note.N == v.Noting.Note})
	}
	return out
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
	// ListNotes lists the notes of one state alone, "" for all.
	ListNotes struct {
		Only string `json:"only"`
	}
)

func (c ChooseNote) apply(v *View, _ Subject) error {
	v.Noting.Note = c.N
	return nil
}

func (c GoToNote) apply(v *View, on Subject) error {
	i := on.NoteOf(c.N)
	if i < 0 {
		return fmt.Errorf("there is no note %d", c.N)
	}
	v.Noting.Note = c.N
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
	v.Noting.Only = c.Only
	return nil
}

func isNoteState(state string) bool {
	return state == "" || state == session.NoteOpen || state == session.NoteAgreed || state == session.NotePrinter
}

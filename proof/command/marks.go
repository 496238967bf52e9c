package command

import (
	"fmt"
	"slices"

	"threeply/proof/session"
)

// changeMark gives the mark of a number to change, in a copy of the state's marks.
func changeMark(s *session.State, n int, change func(m *session.Pinned)) error {
	k := s.MarkOf(n)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", n)
	}
	s.Marks = slices.Clone(s.Marks)
	change(&s.Marks[k])
	return nil
}

// checkOn refuses a place that lies off a source's picture.
func checkOn(src session.Source, x, y float64) error {
	if !session.Within(x, -0.5, float64(src.W)-0.5) || !session.Within(y, -0.5, float64(src.H)-0.5) {
		return fmt.Errorf("a mark at %.0f, %.0f lies off %s", x, y, src.File)
	}
	return nil
}

// Pin pins a mark in one source: the mark of a number, or a new one where there is
// none or N is 0.
type Pin struct {
	N      int     `json:"n,omitempty" like:"pin.n"`
	Source int     `json:"source" like:"assign"`
	X      float64 `json:"x" like:"marks.at.x"` // pixels of the source, centres at whole numbers
	Y      float64 `json:"y" like:"marks.at.y"`
}

func (c Pin) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	if err := checkOn(s.Sources[c.Source], c.X, c.Y); err != nil {
		return err
	}
	n := c.N
	if s.MarkOf(n) < 0 {
		if len(s.Marks) >= session.MostMarks {
			return fmt.Errorf("there are %d marks already: take one away first", session.MostMarks)
		}
		n = max(n, s.NextMark())
		s.Marks = append(slices.Clip(s.Marks), session.Pinned{N: n, Weight: 1})
	}
	return changeMark(s, n, func(m *session.Pinned) {
		m.At[c.Source] = session.Pin{Set: true, X: c.X, Y: c.Y, Certainty: 1}
	})
}
func (Pin) Words() string { return "mark" }

// Propose pins a mark where the tool finds it in other plates, and takes back what it
// proposed before where it does not find it any more. Pins that a person set stay.
type Propose struct {
	N  int         `json:"n" like:"marks.n"`
	At [3]Proposal `json:"at"` // by source
}

// Proposal is what came of the search for a mark in one source.
type Proposal struct {
	Sought    bool    `json:"sought"` // false leaves the source's pin as it is
	Found     bool    `json:"found"`
	X         float64 `json:"x" like:"marks.at.x"` // pixels of the source
	Y         float64 `json:"y" like:"marks.at.y"`
	Certainty float64 `json:"certainty" like:"marks.at.certainty"`
}

func (c Propose) Apply(s *session.State) error {
	for i, p := range c.At {
		if !p.Sought || !p.Found {
			continue
		}
		if err := checkOn(s.Sources[i], p.X, p.Y); err != nil {
			return err
		}
	}
	return changeMark(s, c.N, func(m *session.Pinned) {
		for i, p := range c.At {
			at := &m.At[i]
			switch {
			case !p.Sought || at.Set && !at.Proposed:
			case p.Found:
				*at = session.Pin{Set: true, X: p.X, Y: p.Y, Certainty: p.Certainty, Proposed: true}
			default:
				*at = session.Pin{}
			}
		}
	})
}
func (Propose) Words() string { return "proposed places" }

// Confirm takes what is proposed of a mark as a person's own.
type Confirm struct {
	N int `json:"n" like:"marks.n"`
}

func (c Confirm) Apply(s *session.State) error {
	return changeMark(s, c.N, func(m *session.Pinned) {
		for i := range m.At {
			m.At[i].Proposed = false
		}
	})
}
func (Confirm) Words() string { return "confirmed mark" }

// Unpin takes a mark away.
type Unpin struct {
	N int `json:"n" like:"marks.n"`
}

func (c Unpin) Apply(s *session.State) error {
	k := s.MarkOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = without(s.Marks, k)
	return nil
}
func (Unpin) Words() string { return "mark" }

// Weigh sets how much a mark counts against the others.
type Weigh struct {
	N     int     `json:"n" like:"marks.n"`
	Value float64 `json:"value" like:"marks.weight"`
}

func (c Weigh) Apply(s *session.State) error {
	return changeMark(s, c.N, func(m *session.Pinned) { m.Weight = c.Value })
}
func (Weigh) Words() string { return "weight of a mark" }

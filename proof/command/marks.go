package command

import (
	"fmt"
	"slices"

	"threeply/proof/session"
)

// pin sets a mark in one source; N 0 begins a new one.
func pin(c Command, s *session.State) error {
	i := c.Source
	if i < 0 || i > 2 || c.Pin == nil {
		return fmt.Errorf("no source %d to pin, or no place given", i)
	}
	p, src := *c.Pin, s.Sources[i]
	if !session.Within(p.X, -0.5, float64(src.W)-0.5) || !session.Within(p.Y, -0.5, float64(src.H)-0.5) {
		return fmt.Errorf("a mark at %.0f, %.0f lies off %s", p.X, p.Y, src.File)
	}
	p.Set = true
	if !p.Proposed {
		p.Certainty = 1
	}
	s.Marks = slices.Clone(s.Marks)
	k := s.MarkOf(c.N)
	if k < 0 {
		if len(s.Marks) >= session.MostMarks {
			return fmt.Errorf("there are %d marks already: take one away first", session.MostMarks)
		}
		s.Marks = append(s.Marks, session.Pinned{N: max(c.N, s.NextMark()), Weight: 1})
		k = len(s.Marks) - 1
	}
	s.Marks[k].At[i] = p
	return nil
}

// propose pins a mark where the tool finds it in other plates, and takes back what
// it proposed where it does not find it any more: a pin that is proposed and not
// set. Pins that a person set stay.
func propose(c Command, s *session.State) error {
	k := s.MarkOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = slices.Clone(s.Marks)
	for i, p := range c.Pins {
		src, at := s.Sources[i], &s.Marks[k].At[i]
		switch {
		case at.Set && !at.Proposed:
			continue
		case !p.Set && p.Proposed: // sought from where the mark is now, and not found
			*at = session.Pin{}
			continue
		case !p.Set:
			continue
		}
		if !session.Within(p.X, -0.5, float64(src.W)-0.5) || !session.Within(p.Y, -0.5, float64(src.H)-0.5) || !session.Within(p.Certainty, 0, 1) {
			return fmt.Errorf("mark %d cannot be proposed at %.0f, %.0f of %s", c.N, p.X, p.Y, src.File)
		}
		p.Proposed = true
		*at = p
	}
	return nil
}

// confirm takes what is proposed of a mark as a person's own.
func confirm(c Command, s *session.State) error {
	k := s.MarkOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = slices.Clone(s.Marks)
	for i := range s.Marks[k].At {
		s.Marks[k].At[i].Proposed = false
	}
	return nil
}

func unpin(c Command, s *session.State) error {
	k := s.MarkOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = slices.Delete(slices.Clone(s.Marks), k, k+1)
	return nil
}

func weigh(c Command, s *session.State) error {
	k := s.MarkOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = slices.Clone(s.Marks)
	s.Marks[k].Weight = c.Value
	return nil
}

func registerBy(c Command, s *session.State) error {
	s.By = c.ID
	if c.Value != 0 {
		s.MarkShare = c.Value
	}
	return nil
}

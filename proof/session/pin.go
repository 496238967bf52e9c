package session

import (
	"fmt"
	"slices"

	"threeply/proof/mark"
)

// The ways of registering.
const (
	ByRegister = "auto"  // as the plates were found, or placed by hand
	ByMarks    = "marks" // by the marks alone
	ByBoth     = "both"  // both, the marks with the weight MarkShare
)

// Pinned is one mark: a feature of the scene and where each plate shows it.
type Pinned struct {
	N      int     `json:"n"` // its number, which it keeps
	At     [3]Pin  `json:"at"`
	Weight float64 `json:"weight"` // against the other marks, above 0
}

// Pin is where one source shows a feature.
type Pin struct {
	Set       bool    `json:"set"`
	X         float64 `json:"x"` // pixels of the source, centres at whole numbers
	Y         float64 `json:"y"`
	Certainty float64 `json:"certainty"` // of a place that was proposed, 0 … 1; 1 where a person set it
	Proposed  bool    `json:"proposed"`  // by the tool, not corrected or confirmed yet
}

// mostMarks bounds a session; a screen cannot show more.
const mostMarks = 99

// MarkFit returns what the marks, by the session's way of registering, make of
// source i: a map from the key's pixel to the source's. The residuals are those
// of MarksOf(i). The errors are those of mark.Solve.
func (s *State) MarkFit(i int) (mark.Fit, error) {
	marks, start := s.MarksOf(i), s.found(i)
	if s.By == ByBoth && s.Registered == "auto" {
		w, h := s.Frame()
		return mark.Blend(marks, start, w, h, s.MarkShare)
	}
	return mark.Solve(marks, start)
}

// MarksOf returns the marks that are pinned in the key and in source i, in the
// order of Marks. A place that was proposed and not confirmed weighs by its
// certainty.
func (s *State) MarksOf(i int) []mark.Mark {
	k := s.KeySource()
	var out []mark.Mark
	for _, m := range s.Marks {
		if m.At[k].Set && m.At[i].Set {
			out = append(out, mark.Mark{KeyX: m.At[k].X, KeyY: m.At[k].Y, X: m.At[i].X, Y: m.At[i].Y, Weight: m.Weight * m.At[k].trust() * m.At[i].trust()})
		}
	}
	return out
}

// leastTrust keeps a proposal of next to no certainty in the fit, lest the marks
// that count be fewer than those that are seen.
const leastTrust = 0.02

func (p Pin) trust() float64 {
	if !p.Proposed {
		return 1
	}
	return max(p.Certainty, leastTrust)
}

// markOf finds a mark by its number.
func (s *State) markOf(n int) int {
	return slices.IndexFunc(s.Marks, func(m Pinned) bool { return m.N == n })
}

// NextMark is the number that the next mark gets.
func (s *State) NextMark() int {
	n := 0
	for _, m := range s.Marks {
		n = max(n, m.N)
	}
	return n + 1
}

// pin sets a mark in one source; N 0 begins a new one.
func pin(c Command, s *State) error {
	i := c.Source
	if i < 0 || i > 2 || c.Pin == nil {
		return fmt.Errorf("no source %d to pin, or no place given", i)
	}
	p, src := *c.Pin, s.Sources[i]
	if !within(p.X, -0.5, float64(src.W)-0.5) || !within(p.Y, -0.5, float64(src.H)-0.5) {
		return fmt.Errorf("a mark at %.0f, %.0f lies off %s", p.X, p.Y, src.File)
	}
	p.Set = true
	if !p.Proposed {
		p.Certainty = 1
	}
	s.Marks = slices.Clone(s.Marks)
	k := s.markOf(c.N)
	if k < 0 {
		if len(s.Marks) >= mostMarks {
			return fmt.Errorf("there are %d marks already: take one away first", mostMarks)
		}
		s.Marks = append(s.Marks, Pinned{N: max(c.N, s.NextMark()), Weight: 1})
		k = len(s.Marks) - 1
	}
	s.Marks[k].At[i] = p
	return nil
}

// propose pins a mark where the tool finds it in other plates, and takes back what
// it proposed where it does not find it any more: a pin that is proposed and not
// set. Pins that a person set stay.
func propose(c Command, s *State) error {
	k := s.markOf(c.N)
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
			*at = Pin{}
			continue
		case !p.Set:
			continue
		}
		if !within(p.X, -0.5, float64(src.W)-0.5) || !within(p.Y, -0.5, float64(src.H)-0.5) || !within(p.Certainty, 0, 1) {
			return fmt.Errorf("mark %d cannot be proposed at %.0f, %.0f of %s", c.N, p.X, p.Y, src.File)
		}
		p.Proposed = true
		*at = p
	}
	return nil
}

// confirm takes what is proposed of a mark as a person's own.
func confirm(c Command, s *State) error {
	k := s.markOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = slices.Clone(s.Marks)
	for i := range s.Marks[k].At {
		s.Marks[k].At[i].Proposed = false
	}
	return nil
}

func unpin(c Command, s *State) error {
	k := s.markOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = slices.Delete(slices.Clone(s.Marks), k, k+1)
	return nil
}

func weigh(c Command, s *State) error {
	k := s.markOf(c.N)
	if k < 0 {
		return fmt.Errorf("there is no mark %d", c.N)
	}
	s.Marks = slices.Clone(s.Marks)
	s.Marks[k].Weight = c.Value
	return nil
}

func registerBy(c Command, s *State) error {
	s.By = c.ID
	if c.Value != 0 {
		s.MarkShare = c.Value
	}
	return nil
}

func (s *State) checkMarks() error {
	if s.By != ByRegister && s.By != ByMarks && s.By != ByBoth {
		return fmt.Errorf("plates cannot be registered by “%s”: there are auto, marks and both", s.By)
	}
	if !within(s.MarkShare, 0.01, 0.99) {
		return fmt.Errorf("marks with a share of %g: 0.01 to 0.99 can be set", s.MarkShare)
	}
	for i, m := range s.Marks {
		if m.N < 1 || s.markOf(m.N) != i {
			return fmt.Errorf("two marks have the number %d, or it is no number of a mark", m.N)
		}
		if !within(m.Weight, 0.01, 100) {
			return fmt.Errorf("mark %d has a weight of %g: 0.01 to 100 can be set", m.N, m.Weight)
		}
	}
	return nil
}

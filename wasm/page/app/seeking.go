package app

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/register"
	"threeply/wasm/page/view"
)

// search is what is known of looking for marks in the other plates.
type search struct {
	turn   int             // counts the searches: what a later one overtook is dropped
	now    int             // number of the mark that is looked for, 0 for none
	from   int             // serial number of the step that it is looked for from
	missed map[int][3]bool // by number of a mark and source: it was looked for, and is not found yet
	pins   int             // counts the pins that were set
}

// begin begins what is one step of undo: a pin, and what is found from it in the other plates.
func (s *search) begin() { s.pins++ }

// gesture is what that step is known by; see command.History.
func (s *search) gesture() string { return fmt.Sprintf("pin %d", s.pins) }

func (s *search) miss(n, source int, missed bool) {
	if s.missed == nil {
		s.missed = map[int][3]bool{}
	}
	m := s.missed[n]
	m[source] = missed
	s.missed[n] = m
}

func (s *search) forget(n int) { delete(s.missed, n) }

// Search is what a mark is looked for in.
type Search struct {
	Turn  int
	N     int // number of the mark
	Tries []Try
}

// Try is one part of a source to look in, about one guess.
type Try struct {
	Source int
	Around register.Around
}

// Seek cuts out of the plates what the chosen mark is looked for in: from the pin that
// was set last to every plate that is not pinned by a person. It returns nil where
// nothing is to be looked for.
func (a *App) Seek() *Search {
	m, ok := a.View.ChosenMark(&a.State)
	fromFilter := a.View.Marking.Filter
	from := a.Assign[fromFilter]
	if !ok || !a.Plates.Open() || !m.At[from].Set {
		return nil
	}
	pin := m.At[from]
	out := &Search{N: m.N}
	lost := command.Propose{N: m.N}
	for f := range 3 {
		i := a.Assign[f]
		if i == from || m.At[i].Set && !m.At[i].Proposed {
			continue
		}
		for _, guess := range a.guesses(fromFilter, f, pin.X, pin.Y) {
			polarity := [2]bool{a.Sources[from].Film.Negative, a.Sources[i].Film.Negative}
			if around, ok := register.LookAround(a.Plates[from][0], a.Plates[i][0], polarity, guess, pin.X, pin.Y); ok {
				out.Tries = append(out.Tries, Try{i, around})
			}
		}
		a.search.miss(m.N, i, true)
		lost.At[i].Sought = true
	}
	if len(out.Tries) == 0 { // the place lies beyond the others: what was proposed for another one goes
		if a.History.Do(lost, a.search.gesture()) == nil {
			_ = a.update() // what may be wrong was said when the session came to be so
		}
		return nil
	}
	a.search.turn++
	steps, at := a.Steps()
	a.search.now, a.search.from, out.Turn = m.N, steps[at].Serial, a.search.turn
	return out
}

// apart is how many pixels two guesses must lie apart for both to be tried.
const apart = 16

// guesses are maps from the plate of one filter to that of another about a place: what
// is known of register, and how the panes show the two, where that differs. Whoever pans
// a pane to the feature says where to look.
func (a *App) guesses(from, to int, x, y float64) []affine.Matrix {
	var out []affine.Matrix
	take := func(key, there affine.Matrix) {
		back, ok := key.Inverse()
		if !ok {
			return
		}
		m := there.Mul(back)
		px, py := m.Apply(x, y)
		for _, o := range out {
			ox, oy := o.Apply(x, y)
			if math.Hypot(px-ox, py-oy) < apart {
				return
			}
		}
		out = append(out, m)
	}
	take(view.BestPlace(&a.State, a.Assign[from]), view.BestPlace(&a.State, a.Assign[to]))
	if m := &a.View.Marking; a.View.Look == "marks" {
		take(affine.Translate(m.At[from][0], m.At[from][1]).Mul(m.Linear(from)),
			affine.Translate(m.At[to][0], m.At[to][1]).Mul(m.Linear(to)))
	}
	return out
}

// SearchEnded takes what a search found: its turn, the mark and the places as JSON. What
// was undone or overtaken meanwhile is dropped.
func (a *App) SearchEnded(turn, n int, text []byte) error {
	if turn != a.search.turn {
		return nil
	}
	a.search.now = 0
	if a.MarkOf(n) < 0 {
		return nil
	}
	steps, at := a.Steps()
	if !slices.ContainsFunc(steps[:at+1], func(s command.Step) bool { return s.Serial == a.search.from }) { // the pin was taken back
		a.search.forget(n)
		return a.update()
	}
	err := a.propose(n, text)
	if err != nil {
		a.Complain(err)
	}
	return err
}

func (a *App) propose(n int, text []byte) error {
	var places []struct {
		Source          int
		OK              bool
		X, Y, Certainty float64
	}
	if err := json.Unmarshal(text, &places); err != nil {
		return err
	}
	c := command.Propose{N: n}
	for i, sought := range a.search.missed[n] {
		c.At[i].Sought = sought
	}
	for _, p := range places {
		if p.OK && p.Source >= 0 && p.Source < 3 {
			c.At[p.Source] = command.Proposal{Sought: true, Found: true, X: p.X, Y: p.Y, Certainty: p.Certainty}
			a.search.miss(n, p.Source, false)
		}
	}
	if err := a.History.Do(c, a.search.gesture()); err != nil {
		return err
	}
	a.View.MeetProposals(&a.State, n)
	return a.update()
}

//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"threeply/proof/command"
	"threeply/proof/session"
)

// markOf finds a mark by its number.
func (a *app) markOf(n int) (session.Pinned, bool) {
	k := slices.IndexFunc(a.Marks, func(m session.Pinned) bool { return m.N == n })
	if k < 0 {
		return session.Pinned{}, false
	}
	return a.Marks[k], true
}

// chosenMark is the mark that clicks and keys set; it may have been undone.
func (a *app) chosenMark() (session.Pinned, bool) { return a.markOf(a.marking.chosen) }

// choose takes a mark up; 0 lets go.
func (a *app) choose(n int) {
	a.marking.chosen = n
}

// pinsDo carries out the commands on marks that need the stage; the rest are
// the session's own.
func (a *app) pinsDo(c sightCommand, text []byte) (done bool, err error) {
	switch c.Do {
	case "pinAt": // a point of the stage, in CSS pixels
		err = a.pinAt(number(text, "x"), number(text, "y"))
	case "pinHere":
		err = a.pinHere()
	case "pinBy":
		err = a.pinBy(c.N, text, c.Gesture)
	case "markChoose":
		a.choose(c.N)
		if f := session.FilterIndex(c.Filter); f >= 0 {
			a.marking.filter = f
		}
	case "markPlate":
		a.marking.filter = (a.marking.filter + 1) % 3
	case "markNext":
		a.nextMark()
	case "markGo":
		a.choose(c.N)
		a.goToMark()
	case "together":
		a.marking.together = c.On
	case "contrast":
		a.contrast = c.On
	default:
		return false, nil
	}
	return true, err
}

// pinAt pins the plate under a point of the stage there: the chosen mark, or a
// new one where none is chosen or a person has settled all three of its pins.
func (a *app) pinAt(x, y float64) error {
	p, inside := a.paneAt(x, y)
	if !inside || !p.direct {
		return nil
	}
	px, py := a.view(p).Apply(x*a.ratio-0.5, y*a.ratio-0.5)
	return a.setPin(2-p.plate, px, py)
}

func (a *app) setPin(filter int, x, y float64) error {
	n := 0
	if m, ok := a.chosenMark(); ok && !settled(m) {
		n = m.N
	}
	err := a.History.Do(command.Pin{N: n, Source: a.Assign[filter], X: x, Y: y}, "")
	if err != nil {
		return err
	}
	if n == 0 {
		n = a.Marks[len(a.Marks)-1].N
	}
	a.marking.chosen, a.marking.filter = n, filter
	delete(a.marking.missed, n)
	return a.recompute()
}

// settled tells whether a person set or confirmed all pins of a mark.
func settled(m session.Pinned) bool {
	return !slices.ContainsFunc(m.At[:], func(p session.Pin) bool { return !p.Set || p.Proposed })
}

// pinHere pins the plate that the keys are at in the middle of its pane; where
// it is pinned it confirms what is proposed, and then lets go.
func (a *app) pinHere() error {
	f := a.marking.filter
	m, ok := a.chosenMark()
	if !ok || !m.At[a.Assign[f]].Set {
		return a.setPin(f, a.marking.at[f][0], a.marking.at[f][1])
	}
	if settled(m) || !slices.ContainsFunc(m.At[:], func(p session.Pin) bool { return p.Proposed }) {
		a.choose(0)
		return nil
	}
	return a.History.Do(command.Confirm{N: m.N}, "")
}

// pinBy moves a pin: by CSS pixels of the stage, or by pixels of the plate in
// the direction that the stage shows.
func (a *app) pinBy(n int, text []byte, gesture string) error {
	var d struct {
		Filter       string
		DX, DY       float64
		StepX, StepY float64
	}
	if err := json.Unmarshal(text, &d); err != nil {
		return fmt.Errorf("not a way to move a pin: %v", err)
	}
	f := session.FilterIndex(d.Filter)
	if f < 0 {
		f = a.marking.filter
	}
	if n == 0 {
		n = a.marking.chosen
	}
	i := a.Assign[f]
	m, ok := a.markOf(n)
	if !ok || !m.At[i].Set {
		return nil
	}
	dx, dy := a.onPlate(f, d.DX, d.DY)
	if linear := a.marking.linear[f]; d.StepX != 0 || d.StepY != 0 {
		dx, dy = linear.Apply(d.StepX, d.StepY)
		size := math.Sqrt(math.Abs(linear.Det()))
		dx, dy = dx/size, dy/size
	}
	s := a.Sources[i]
	pin := command.Pin{
		N: n, Source: i,
		X: min(max(m.At[i].X+dx, -0.5), float64(s.W)-0.5),
		Y: min(max(m.At[i].Y+dy, -0.5), float64(s.H)-0.5),
	}
	a.marking.chosen, a.marking.filter = n, f
	if err := a.History.Do(pin, gesture); err != nil {
		return err
	}
	return a.recompute()
}

// nextMark takes up the mark after the chosen one, in the order of their
// numbers, and goes there.
func (a *app) nextMark() {
	if len(a.Marks) == 0 {
		return
	}
	next := a.Marks[0].N
	for _, m := range a.Marks {
		if m.N > a.marking.chosen {
			next = m.N
			break
		}
	}
	a.choose(next)
	a.goToMark()
}

// goToMark brings the chosen mark into the middle.
func (a *app) goToMark() {
	m, ok := a.chosenMark()
	if !ok {
		return
	}
	if a.look == "marks" {
		a.meetAtMark()
		return
	}
	if x, y, ok := a.keyPlace(m); ok {
		a.cx, a.cy = x, y
		a.zoom, a.fitted = max(a.zoom, a.ratio), false
		a.hold()
	}
}

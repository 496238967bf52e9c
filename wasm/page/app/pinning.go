package app

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/command"
	"threeply/proof/filter"
	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// What pins marks where they are seen on the stage. Points and ways are CSS pixels of
// the stage.
type (
	// PinAt pins the plate under a point there: the chosen mark, or a new one where none
	// is chosen or a person has settled all three of its pins.
	PinAt struct {
		X float64 `json:"x"`
		Y float64 `json:"y"`
	}
	// PinHere pins the plate that the keys are at in the middle of its pane; where it is
	// pinned it confirms what is proposed, and then lets go.
	PinHere struct{}
	// PinBy moves a pin: by a way over the stage, or by pixels of the plate in the
	// direction that the stage shows. Left out, the mark is the chosen one and the plate
	// the one that the keys are at.
	PinBy struct {
		N      int     `json:"n,omitempty"`
		Filter string  `json:"filter,omitempty"`
		DX     float64 `json:"dx,omitempty"`
		DY     float64 `json:"dy,omitempty"`
		StepX  float64 `json:"stepX,omitempty"`
		StepY  float64 `json:"stepY,omitempty"`
	}
)

func (c PinAt) do(a *App, _ string) error {
	if !a.Plates.Open() {
		return nil
	}
	p, inside := a.View.SeenAt(c.X, c.Y)
	if !inside || !p.OwnFrame {
		return nil
	}
	x, y := a.View.PixelAt(p, c.X, c.Y)
	return a.setPin(int(filter.Of(p.Plate)), x, y)
}

func (PinHere) do(a *App, _ string) error {
	if !a.Plates.Open() {
		return nil
	}
	at := a.View.Marking
	m, ok := a.View.ChosenMark(&a.State)
	if !ok || !m.At[a.Assign[at.Filter]].Set {
		return a.setPin(at.Filter, at.At[at.Filter][0], at.At[at.Filter][1])
	}
	if !slices.ContainsFunc(m.At[:], func(p session.Pin) bool { return p.Proposed }) {
		a.View.Marking.Mark = 0
		return nil
	}
	if err := a.History.Do(command.Confirm{N: m.N}, ""); err != nil {
		return err
	}
	return a.update()
}

func (c PinBy) do(a *App, gesture string) error {
	if !a.Plates.Open() {
		return nil
	}
	f, n := a.View.Marking.Filter, a.View.Marking.Mark
	if c.Filter != "" {
		if f = session.FilterIndex(c.Filter); f < 0 {
			return fmt.Errorf("no plate “%s”: there are red, green and blue", c.Filter)
		}
	}
	if c.N != 0 {
		n = c.N
	}
	i, k := a.Assign[f], a.MarkOf(n)
	if k < 0 || !a.Marks[k].At[i].Set {
		return nil
	}
	dx, dy := a.View.OnPlate(f, c.DX, c.DY)
	if c.StepX != 0 || c.StepY != 0 {
		linear := a.View.Marking.Linear(f)
		dx, dy = linear.Apply(c.StepX, c.StepY)
		size := math.Sqrt(math.Abs(linear.Det()))
		dx, dy = dx/size, dy/size
	}
	pin, src := a.Marks[k].At[i], a.Sources[i]
	a.View.Marking.Mark, a.View.Marking.Filter = n, f
	err := a.History.Do(command.Pin{
		N: n, Source: i,
		X: min(max(pin.X+dx, -0.5), float64(src.W)-0.5), Y: min(max(pin.Y+dy, -0.5), float64(src.H)-0.5),
	}, gesture)
	if err != nil {
		return err
	}
	return a.update()
}

// setPin pins the plate of a filter.
func (a *App) setPin(filter int, x, y float64) error {
	n := 0
	if m, ok := a.View.ChosenMark(&a.State); ok && !view.Settled(m) {
		n = m.N
	}
	a.search.begin()
	if err := a.History.Do(command.Pin{N: n, Source: a.Assign[filter], X: x, Y: y}, a.search.gesture()); err != nil {
		return err
	}
	if n == 0 {
		n = a.Marks[len(a.Marks)-1].N
	}
	a.View.Marking.Mark, a.View.Marking.Filter = n, filter
	a.search.forget(n)
	return a.update()
}

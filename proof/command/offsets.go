package command

import (
	"fmt"

	"threeply/proof/pigment"
	"threeply/proof/session"
)

// layerOf returns the printer of a name.
func layerOf(name string) (pigment.Printer, error) {
	for _, p := range pigment.Printers() {
		if p.String() == name {
			return p, nil
		}
	}
	return 0, fmt.Errorf("no layer “%.20s”: there are yellow, magenta and cyan", name)
}

// movable returns the printer of a name where its layer is not locked.
func movable(s *session.State, name string) (pigment.Printer, error) {
	p, err := layerOf(name)
	if err == nil && s.Locked[p] {
		err = fmt.Errorf("the %s layer is locked where it lies; unlock it to move it", p)
	}
	return p, err
}

// Nudge sets those parts of a layer's offset that it gives.
type Nudge struct {
	Printer string   `json:"printer" like:"printer"`
	DX      *float64 `json:"dxUm,omitempty" like:"offsets.dx_um"`
	DY      *float64 `json:"dyUm,omitempty" like:"offsets.dy_um"`
	Turn    *float64 `json:"turnDeg,omitempty" like:"offsets.turn_deg"`
	Stretch *float64 `json:"stretchPct,omitempty" like:"offsets.stretch_pct"`
	Across  *float64 `json:"acrossPct,omitempty" like:"offsets.across_pct"`
}

func (c Nudge) Apply(s *session.State) error {
	return c.each(s, func(part *float64, v float64) { *part = v })
}
func (Nudge) Words() string { return "offset" }

// NudgeBy adds to those parts of a layer's offset that it gives.
type NudgeBy Nudge

func (c NudgeBy) Apply(s *session.State) error {
	return Nudge(c).each(s, func(part *float64, v float64) { *part += v })
}
func (NudgeBy) Words() string { return "offset" }

// each gives the parts of the layer's offset that the command gives to change.
func (c Nudge) each(s *session.State, change func(part *float64, v float64)) error {
	p, err := movable(s, c.Printer)
	if err != nil {
		return err
	}
	o := &s.Offsets[p]
	for part, v := range map[*float64]*float64{&o.DX: c.DX, &o.DY: c.DY, &o.Turn: c.Turn, &o.Stretch: c.Stretch, &o.Across: c.Across} {
		if v != nil {
			change(part, *v)
		}
	}
	return nil
}

// ResetOffset lays a layer where register puts it.
type ResetOffset struct {
	Printer string `json:"printer" like:"printer"`
}

func (c ResetOffset) Apply(s *session.State) error {
	p, err := movable(s, c.Printer)
	if err == nil {
		s.Offsets[p] = session.Offset{}
	}
	return err
}
func (ResetOffset) Words() string { return "offset" }

// CopyOffset lays a layer as another one lies.
type CopyOffset struct {
	Printer string `json:"printer" like:"printer"`
	From    string `json:"from" like:"printer"`
}

func (c CopyOffset) Apply(s *session.State) error {
	p, err := movable(s, c.Printer)
	if err != nil {
		return err
	}
	from, err := layerOf(c.From)
	if err == nil {
		s.Offsets[p] = s.Offsets[from]
	}
	return err
}
func (CopyOffset) Words() string { return "offset" }

// Lock keeps a layer's offset from being changed.
type Lock struct {
	Printer string `json:"printer" like:"printer"`
	On      bool   `json:"on"`
}

func (c Lock) Apply(s *session.State) error {
	p, err := layerOf(c.Printer)
	if err == nil {
		s.Locked[p] = c.On
	}
	return err
}
func (Lock) Words() string { return "lock" }

// Hide leaves a layer out of the picture.
type Hide struct {
	Printer string `json:"printer" like:"printer"`
	Hidden  bool   `json:"hidden"`
}

func (c Hide) Apply(s *session.State) error {
	p, err := layerOf(c.Printer)
	if err == nil {
		s.Hidden[p] = c.Hidden
	}
	return err
}
func (Hide) Words() string { return "hidden layer" }

package command

import (
	"fmt"

	"threeply/proof/pigment"
	"threeply/proof/session"
)

// nudge sets the fields that the command names, nudgeBy adds to them.
func nudge(c Command, s *session.State) error {
	return c.move(s, func(field *float64, v float64) { *field = v })
}

func nudgeBy(c Command, s *session.State) error {
	return c.move(s, func(field *float64, v float64) { *field += v })
}

func (c Command) move(s *session.State, change func(field *float64, v float64)) error {
	p, err := c.layer()
	if err != nil {
		return err
	}
	if s.Locked[p] {
		return errLocked(p)
	}
	o := &s.Offsets[p]
	for field, v := range map[*float64]*float64{&o.DX: c.DX, &o.DY: c.DY, &o.Turn: c.Turn, &o.Stretch: c.Stretch, &o.Across: c.Across} {
		if v != nil {
			change(field, *v)
		}
	}
	return nil
}

func resetOffset(c Command, s *session.State) error {
	p, err := c.layer()
	if err != nil {
		return err
	}
	if s.Locked[p] {
		return errLocked(p)
	}
	s.Offsets[p] = session.Offset{}
	return nil
}

func lock(c Command, s *session.State) error {
	p, err := c.layer()
	if err == nil {
		s.Locked[p] = c.On
	}
	return err
}

// copyOffset lays the printer's layer as another one lies.
func copyOffset(c Command, s *session.State) error {
	p, err := c.layer()
	if err != nil {
		return err
	}
	c.Printer = c.From
	from, err := c.layer()
	if err != nil {
		return err
	}
	if s.Locked[p] {
		return errLocked(p)
	}
	s.Offsets[p] = s.Offsets[from]
	return nil
}

func errLocked(p pigment.Printer) error {
	return fmt.Errorf("the %s layer is locked where it lies; unlock it to move it", p)
}

package command

import "threeply/proof/session"

// Way chooses how the layers are printed: straight, from the negatives as they are or
// enlarged to a density range (0: as they are) and exposed for the black or for a mid
// grey; or tuned, from negatives that are drawn so that neutrals print neutral.
type Way struct {
	Straight bool    `json:"straight" like:"way.straight"`
	Range    float64 `json:"range" like:"way.range"`
	AtDepth  bool    `json:"atDepth" like:"way.atDepth"`
}

func (c Way) Apply(s *session.State) error {
	s.Way.Straight, s.Way.Range, s.Way.AtDepth = c.Straight, c.Range, c.AtDepth
	return nil
}
func (Way) Words() string { return "way of printing" }

// Shape sets what it names of how tuned negatives depart from an even scale.
type Shape struct {
	Contrast  *float64    `json:"contrast,omitempty" like:"way.shape.contrast"`
	Highlight *float64    `json:"highlight,omitempty" like:"way.shape.highlight"`
	Shadow    *float64    `json:"shadow,omitempty" like:"way.shape.shadow"`
	Balance   *[3]float64 `json:"balance,omitempty" like:"way.shape.balance"` // by printer
}

func (c Shape) Apply(s *session.State) error {
	to := &s.Way.Shape
	set(&to.Contrast, c.Contrast)
	set(&to.Highlight, c.Highlight)
	set(&to.Shadow, c.Shadow)
	set(&to.Balance, c.Balance)
	return nil
}
func (Shape) Words() string { return "shape of the tones" }

// Expose sets the exposure of a layer, in stops against the normal one.
type Expose struct {
	Printer string  `json:"printer" like:"printer"`
	Stops   float64 `json:"stops" like:"way.stops"`
}

func (c Expose) Apply(s *session.State) error {
	p, err := layerOf(c.Printer)
	if err == nil {
		s.Way.Stops[p] = c.Stops
	}
	return err
}
func (Expose) Words() string { return "exposure" }

// ExposeAll sets the exposure of all three layers alike.
type ExposeAll struct {
	Stops float64 `json:"stops" like:"way.stops"`
}

func (c ExposeAll) Apply(s *session.State) error {
	s.Way.Stops = [3]float64{c.Stops, c.Stops, c.Stops}
	return nil
}
func (ExposeAll) Words() string { return "exposure" }

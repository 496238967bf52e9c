package command

import (
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spread"
	"threeply/proof/transfer"
)

// Palette chooses one of the palettes, built in or the session's own.
type Palette struct {
	ID string `json:"id"`
}

func (c Palette) Apply(s *session.State) error { s.Palette = c.ID; return nil }
func (Palette) Words() string                  { return "palette" }

// Order chooses the order of the layers, from the paper up: y, m and c.
type Order struct {
	Order string `json:"order" like:"order"`
}

func (c Order) Apply(s *session.State) error { s.Order = c.Order; return nil }
func (Order) Words() string                  { return "order of the layers" }

// Paper chooses one of the papers, built in or the session's own.
type Paper struct {
	ID string `json:"id"`
}

func (c Paper) Apply(s *session.State) error { s.Paper = c.ID; return nil }
func (Paper) Words() string                  { return "paper" }

// Finish chooses the print's surface.
type Finish struct {
	ID string `json:"id" like:"finish"`
}

func (c Finish) Apply(s *session.State) error { s.Finish = c.ID; return nil }
func (Finish) Words() string                  { return "finish" }

// Light chooses what the print is seen under.
type Light struct {
	ID string `json:"id"`
}

func (c Light) Apply(s *session.State) error { s.Light = c.ID; return nil }
func (Light) Words() string                  { return "light" }

// Dim chooses the room: a dim gallery, or the workshop's bench.
type Dim struct {
	On bool `json:"on"`
}

func (c Dim) Apply(s *session.State) error { s.Dim = c.On; return nil }
func (Dim) Words() string                  { return "room" }

// Limit sets how thick the thickest layer may be, relative to its coat.
type Limit struct {
	Value float64 `json:"value" like:"limit"`
}

func (c Limit) Apply(s *session.State) error { s.Limit = c.Value; return nil }
func (Limit) Words() string                  { return "thickest layer" }

// Masked chooses whether masks correct the plates, or each prints its own layer alone.
type Masked struct {
	On bool `json:"on"`
}

func (c Masked) Apply(s *session.State) error { s.Masked = c.On; return nil }
func (Masked) Words() string                  { return "masks" }

// Unknowns sets how much of what a proof rests on is not known; left out, the
// usual ones again.
type Unknowns struct {
	Unknowns *spread.Unknowns `json:"unknowns,omitempty" like:"unknowns"`
}

func (c Unknowns) Apply(s *session.State) error {
	s.Unknowns = c.Unknowns
	return nil
}
func (Unknowns) Words() string { return "what is not known" }

// Exhibition says how the print is to be shown; left out, in the usual one again.
type Exhibition struct {
	Exhibition *pigment.Exhibition `json:"exhibition,omitempty" like:"exhibition"`
}

func (c Exhibition) Apply(s *session.State) error {
	s.Exhibition = c.Exhibition
	return nil
}
func (Exhibition) Words() string { return "exhibition" }

// Route chooses how the layers are transferred to the paper.
type Route struct {
	ID       string   `json:"id" like:"route"`
	Supports []string `json:"supports,omitempty" like:"own_route"` // of the route transfer.Own; left out, those that it has
}

func (c Route) Apply(s *session.State) error {
	s.Route = c.ID
	if c.ID == transfer.Own && c.Supports != nil {
		s.OwnRoute = c.Supports
	}
	return nil
}
func (Route) Words() string { return "route" }

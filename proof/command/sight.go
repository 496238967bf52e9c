package command

import "threeply/proof/session"

// Sight writes down what the eye tells of the test sheet of the palette, so that it is kept until
// it is used. An empty table takes it away.
type Sight struct {
	Table string `json:"table" like:"sight.table"`
}

func (c Sight) Apply(s *session.State) error {
	s.Sight = nil
	if c.Table != "" {
		s.Sight = &session.Sight{Palette: s.Palette, Table: c.Table}
	}
	return nil
}
func (Sight) Words() string { return "what was seen" }

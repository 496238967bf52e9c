package command

import (
	"cmp"

	"threeply/proof/picture"
	"threeply/proof/session"
	"threeply/proof/wedge"
)

// Wedge takes up what a step tablet printed on a printer's tissue: its curve then goes
// before the law. Table is a line for each step, with the tablet's density and that of the
// print above the bare paper, as package wedge reads it; the print was made on the
// session's paper and surface. Without a table the measured wedge is taken away.
type Wedge struct {
	Printer  string  `json:"printer" like:"printer"`
	Table    string  `json:"table,omitempty" like:"wedge.table"`
	Read     string  `json:"read,omitempty" like:"wedge.read"`         // what densities of the print were read by, see wedge.Reading; "" is A
	Exposure float64 `json:"exposure,omitempty" like:"wedge.exposure"` // in the unit of the tissues' thresholds; 0 is 1
	Load     bool    `json:"load,omitempty"`                           // set the tissue's load by it too, where it shows the whole coat
}

func (c Wedge) Apply(s *session.State) error {
	p, err := layerOf(c.Printer)
	if err != nil {
		return err
	}
	recipe, _, err := picture.Recipe(s)
	if err != nil {
		return err
	}
	t := recipe.Palette.Layer(p)
	t.Hardening.Wedge = nil
	if c.Table != "" {
		steps, err := wedge.Read(c.Table)
		if err != nil {
			return err
		}
		curve, err := wedge.Of(recipe, p, steps, cmp.Or(wedge.Reading(c.Read), "A"), cmp.Or(c.Exposure, 1))
		if err != nil {
			return err
		}
		t.Hardening.Wedge = curve.Steps
		if c.Load && curve.Through {
			t.Load *= curve.Load
		}
	}
	return Tissue{Printer: c.Printer, Tissue: t}.Apply(s)
}
func (Wedge) Words() string { return "measured wedge" }

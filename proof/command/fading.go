package command

import (
	"cmp"
	"fmt"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/wedge"
)

// Fading takes up what was measured of a strip of a printer's tissue that was put in the
// light: it then goes before the classes of the tissue's pigments. Before and After are
// densities of the same place above the bare paper; the strip lies on the session's paper
// under its surface. Without a dose the measurement is taken away.
type Fading struct {
	Printer string  `json:"printer" like:"printer"`
	Dose    float64 `json:"dose,omitempty" like:"fading.dose"` // Mlx·h without UV
	Before  float64 `json:"before,omitempty" like:"fading.before"`
	After   float64 `json:"after,omitempty" like:"fading.after"`
	Read    string  `json:"read,omitempty" like:"wedge.read"` // what the densities were read by, see wedge.Reading; "" is A
}

func (c Fading) Apply(s *session.State) error {
	p, err := layerOf(c.Printer)
	if err != nil {
		return err
	}
	recipe, _, err := picture.Recipe(s)
	if err != nil {
		return err
	}
	palette, own, err := ownPalette(s)
	if err != nil {
		return err
	}
	t := palette.Layer(p)
	t.Faded = nil
	if c.Dose > 0 {
		left, err := wedge.Left(recipe, p, c.Before, c.After, cmp.Or(wedge.Reading(c.Read), "A"))
		if err != nil {
			return err
		}
		if left < pigment.LeastLeft {
			return fmt.Errorf("of the strip %.1f %% is left: read one that was shown for less long", 100*left)
		}
		t.Faded = &pigment.Faded{Dose: c.Dose, Left: left}
	}
	palette = palette.WithLayer(p, t)
	if err := palette.Check(); err != nil {
		return err
	}
	return putPalette(s, own, palette)
}
func (Fading) Words() string { return "measured fading" }

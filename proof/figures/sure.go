package figures

import (
	"threeply/proof/picture"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
)

// Sureness is how sure a colour of a print is; see spread.Sure.
type Sureness struct {
	Name   string       `json:"name"`
	Lab    spectrum.Lab `json:"lab"` // the likely one, in the chosen light
	DeltaE float64      `json:"dE"`  // nine of ten prints lie within this ΔE00 of it
	L      [2]float64   `json:"L"`   // and nine of ten between these L*
	Words  string       `json:"words"`
	Causes []Cause      `json:"causes"` // strongest first
}

// Cause is one of the things that are not known, and what it alone does to a colour.
type Cause struct {
	What   string  `json:"what"`
	Layer  string  `json:"layer"` // empty for paper and surface
	DeltaE float64 `json:"dE"`
}

// tones of the neutral scale at which the page says how sure they are.
var tones = []struct {
	name string
	at   float64 // 0 paper, 1 the depth
}{{"light grey", 0.25}, {"middle grey", 0.5}, {"dark grey", 0.75}, {"black", 1}}

// SureOfGreys tells how sure the greys of a session's print are, from light to dark, as
// they are printed by its plates.
func SureOfGreys(s *session.State) ([]Sureness, error) {
	p, err := picture.Prepare(s)
	if err != nil {
		return nil, err
	}
	var out []Sureness
	for _, t := range tones {
		out = append(out, sureness(t.name, s.Doubts().Of(p.PlaceOfGrey(s, p.Way(s), t.at))))
	}
	return out, nil
}

// SureOfPoint tells how sure the print is behind three densities of the plates, by
// printer.
func SureOfPoint(s *session.State, densities [3]float64) (Sureness, error) {
	p, err := picture.Prepare(s)
	if err != nil {
		return Sureness{}, err
	}
	return sureness("the point", s.Doubts().Of(p.Place(s, p.Way(s), densities))), nil
}

func sureness(name string, o spread.Sure) Sureness {
	s := Sureness{Name: name, Lab: o.Likely, DeltaE: o.DeltaE, L: o.L, Words: o.Words(), Causes: []Cause{}}
	for _, c := range o.Causes {
		s.Causes = append(s.Causes, Cause{c.What, c.Layer, c.DeltaE})
	}
	return s
}

package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/spectrum"
)

// Drift is by how much a tissue differs from an earlier measurement of it.
type Drift struct {
	Printer string  `json:"printer"`
	Load    float64 `json:"load"`  // largest absorption from 400 to 700 nm, against the earlier one
	Stops   float64 `json:"stops"` // more exposure that half the coat needs, against the same base exposure
}

// Words says it.
func (d Drift) Words() string {
	// Rounded first, so that next to nothing is never “-0”.
	return fmt.Sprintf("%s: load %+.0f %%, exposure %+.2f stops", d.Printer, math.Round(100*(d.Load-1))+0, math.Round(100*d.Stops)/100+0)
}

// DriftOf compares two measurements of a palette whose sheets had the same base
// exposures, layer by layer. A tissue whose curve one of them does not have is left out.
func DriftOf(earlier, now pigment.Palette) []Drift {
	out := []Drift{}
	for _, p := range pigment.Printers() {
		a, b := earlier.Layer(p), now.Layer(p)
		if len(a.Hardening.Wedge) < 2 || len(b.Hardening.Wedge) < 2 {
			continue
		}
		half := func(t pigment.Tissue) float64 { return relief.Of(t).Exposure(t.CoatMicron / 2) }
		out = append(out, Drift{p.String(), peak(b) / peak(a), (half(b) - half(a)) / math.Log10(2)})
	}
	return out
}

// Since is what has drifted since one of several earlier measurements of the tissues.
type Since struct {
	Name   string  `json:"name"`
	Date   string  `json:"date"`
	Layers []Drift `json:"layers"`
}

// Words says it in a line.
func (s Since) Words() string {
	var parts []string
	for _, d := range s.Layers {
		parts = append(parts, d.Words())
	}
	return fmt.Sprintf("since %s (%s): %s", s.Date, s.Name, strings.Join(parts, "; "))
}

// Drifts compares a measurement with those of the given palettes that are measurements of the
// same tissues, layer by layer of the same pigments, the earliest first; see DriftOf.
func Drifts(given []pigment.Palette, now pigment.Palette) (out []Since) {
	for _, p := range given {
		if p.Measured == nil {
			continue
		}
		one := Since{Name: p.Name, Date: p.Measured.Date}
		for _, d := range DriftOf(p, now) {
			printer := slices.IndexFunc(printerNames(), func(name string) bool { return name == d.Printer })
			if slices.Equal(p.Layer(pigment.Printer(printer)).Pigments, now.Layer(pigment.Printer(printer)).Pigments) {
				one.Layers = append(one.Layers, d)
			}
		}
		if len(one.Layers) > 0 {
			out = append(out, one)
		}
	}
	slices.SortStableFunc(out, func(a, b Since) int { return strings.Compare(a.Date, b.Date) })
	return out
}

// peak is the largest absorption of a tissue that is seen.
func peak(t pigment.Tissue) float64 {
	k, _ := t.KS()
	return slices.Max(k[(400-spectrum.First)/spectrum.Step : (700-spectrum.First)/spectrum.Step+1])
}

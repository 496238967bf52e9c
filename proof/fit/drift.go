package fit

import (
	"fmt"
	"math"
	"slices"

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
	return fmt.Sprintf("%s: load %+.0f %%, exposure %+.2f stops", d.Printer, 100*(d.Load-1), d.Stops)
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

// peak is the largest absorption of a tissue that is seen.
func peak(t pigment.Tissue) float64 {
	k, _ := t.KS()
	return slices.Max(k[(400-spectrum.First)/spectrum.Step : (700-spectrum.First)/spectrum.Step+1])
}

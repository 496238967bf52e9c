package pigment

import (
	"fmt"
	"math"
)

// Hardening is how a tissue answers to the printing light, as its maker measured
// it. What is not given is taken from a prior; see package relief. The zero
// Hardening gives nothing.
type Hardening struct {
	DepthMicron  float64   `json:"depthMicron,omitzero"`  // D_p, dry µm in which the light falls to 1/e; 0: not measured
	Threshold    float64   `json:"threshold,omitzero"`    // E_c, the least exposure that hardens, in the maker's own unit; 0: not measured
	HoldOnMicron *float64  `json:"holdOnMicron,omitzero"` // dry µm below which a layer does not survive the wash; nil: not measured
	Wedge        []Printed `json:"wedge,omitzero"`        // a measured wedge, exposures and heights rising; it is used in place of DepthMicron and Threshold
}

// Printed is one step of a wedge.
type Printed struct {
	LogExposure float64 `json:"logExposure"` // log10, in the unit of Threshold
	Micron      float64 `json:"micron"`      // dry height that the wash left
}

// The limits of what can be entered of a tissue's hardening.
const (
	LeastDepth, MostDepth         = 0.5, 200 // µm
	LeastThreshold, MostThreshold = 1e-6, 1e6
	LeastHoldOn, MostHoldOn       = 0, 50 // µm
	mostSteps                     = 64
)

// check returns what is wrong, and where, or nil.
func (h Hardening) check() *Fault {
	if d := h.DepthMicron; d != 0 && !(d >= LeastDepth && d <= MostDepth) {
		return outOf("depthMicron", d, LeastDepth, MostDepth)
	}
	if e := h.Threshold; e != 0 && !(e >= LeastThreshold && e <= MostThreshold) {
		return outOf("threshold", e, LeastThreshold, MostThreshold)
	}
	if p := h.HoldOnMicron; p != nil && !(*p >= LeastHoldOn && *p <= MostHoldOn) {
		return outOf("holdOnMicron", *p, LeastHoldOn, MostHoldOn)
	}
	if n := len(h.Wedge); n == 1 || n > mostSteps {
		return &Fault{[]any{"hardening", "wedge"}, fmt.Sprintf("a wedge of %d steps; give 2 to %d, or none", n, mostSteps)}
	}
	for i, s := range h.Wedge {
		if !(math.Abs(s.LogExposure) <= 12) || !(s.Micron >= 0 && s.Micron <= MostCoat) {
			return &Fault{[]any{"hardening", "wedge", i}, "an exposure or a height is out of bounds; heights are dry µm, exposures their log10"}
		}
		if i > 0 && !(s.LogExposure > h.Wedge[i-1].LogExposure && s.Micron >= h.Wedge[i-1].Micron) {
			return &Fault{[]any{"hardening", "wedge", i}, "more exposure must harden as much or more; put the steps in rising order and leave out what fell back"}
		}
	}
	return nil
}

func outOf(key string, v, least, most float64) *Fault {
	return &Fault{[]any{"hardening", key}, fmt.Sprintf("%g is out of bounds; give %g to %g", v, least, most)}
}

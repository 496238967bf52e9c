package tone

import "math"

// WorkingCurve is how high a layer hardens under light that it absorbs: light
// falls as exp(-z/Depth) into the layer, and what gets less than Threshold stays
// soft and washes off (P. F. Jacobs, Rapid Prototyping & Manufacturing, SME 1992,
// as quoted second-hand). A carbon tissue's straight line follows from it: behind
// a negative the height is linear in density.
type WorkingCurve struct {
	Depth     float64 // D_p, any length, above 0
	Threshold float64 // E_c, any unit of exposure, above 0
}

// Height is what hardens at an exposure, Depth·ln(exposure/Threshold), in the
// unit of Depth; 0 at and below the threshold.
func (w WorkingCurve) Height(exposure float64) float64 {
	return max(w.Depth*math.Log(exposure/w.Threshold), 0)
}

// WorkingCurveOf is the curve of a tissue that a printing negative of a density
// range prints from nothing to its full coat, in units of the full coat and of
// the threshold.
func WorkingCurveOf(densityRange float64) WorkingCurve {
	return WorkingCurve{1 / (densityRange * math.Ln10), 1}
}

// Stops is by how many doublings of the exposure a height changes by that much.
func (w WorkingCurve) Stops(height float64) float64 { return height / (w.Depth * math.Ln2) }

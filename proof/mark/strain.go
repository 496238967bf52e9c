package mark

import (
	"math"

	"threeply/proof/linear"
)

// Strain is by how many pixels the map of marks errs at the key's (x, y), as a
// root mean square of either direction, when every pin errs by one on its own; a
// mark of another weight w errs by 1/√w. It is 0.5 amid four marks and grows
// quickly beyond the place that the marks surround. Infinite where there is no map.
//
// It is the leverage of least squares: √(pᵀ (Σ w pᵢ pᵢᵀ)⁻¹ p) with p = (1, x, y).
func Strain(marks []Mark, x, y float64) float64 {
	var n, cx, cy float64
	for _, m := range marks {
		n += m.weight()
		cx += m.weight() * m.KeyX
		cy += m.weight() * m.KeyY
	}
	if n == 0 {
		return math.Inf(1)
	}
	cx, cy = cx/n, cy/n
	var moments linear.Symmetric
	for _, m := range marks {
		moments.Add(m.weight(), m.KeyX-cx, m.KeyY-cy)
	}
	dx, dy := x-cx, y-cy
	var far float64
	switch len(marks) {
	case 1: // a shift errs alike everywhere
	case 2: // a similarity: turn and stretch are as sure in every direction
		far = (dx*dx + dy*dy) / (moments.XX + moments.YY)
	default:
		far = moments.Form(dx, dy)
	}
	if math.IsNaN(far) || far < 0 {
		return math.Inf(1)
	}
	return math.Sqrt(1/n + far)
}

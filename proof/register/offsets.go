package register

import "math"

// offsets turns the patches measured at level l into offsets of the key's full
// size, and sums up those that agree to within tol, in pixels of the level.
func offsets(patches []found, l int, tol float64) ([]Offset, Residual) {
	scale := float64(int(1) << l)
	var field []Offset
	var agreed []float64
	for _, p := range patches {
		x, y := from(l).Apply(p.x, p.y)
		e := math.Hypot(p.dx, p.dy)
		o := Offset{X: x, Y: y, DX: p.dx * scale, DY: p.dy * scale, Certainty: certainty(p), Outvoted: !p.settled || e > tol}
		if !o.Outvoted {
			agreed = append(agreed, e*scale)
		}
		field = append(field, o)
	}
	return field, summary(agreed)
}

// certainty joins how well a patch fits and how alone that place is.
func certainty(p found) float64 {
	if !p.settled {
		return 0
	}
	return min(max(p.score, 0), 1) * ramp(p.unique, 0, 0.3)
}

package balance

import (
	"threeply/proof/cube"
	"threeply/proof/spectrum"
)

// Near is Invert for tables: one search in the cube, not the stack, in the
// metric of CIEDE2000 around want and from the nearest node; none at all where
// that node lies farther than far off in CIELAB. Within reach it is as good as
// the cube, save in nearly black layers; out of reach it ends close to the
// nearest colour, not always at it. dE is the CIEDE2000 difference left.
func Near(c *cube.Cube, want spectrum.Lab, far float64) (t [3]float64, dE float64) {
	t = c.Near(want)
	lab := c.At(t)
	if lab.Distance(want) <= far {
		var u [3]float64
		for j := range u {
			u[j] = cube.Coordinate(t[j])
		}
		u, lab = fit(c.Slopes, u, want, around(want), upTo(1))
		for j := range t {
			t[j] = cube.Thickness(u[j])
		}
	}
	return t, spectrum.DeltaE00(lab, want)
}

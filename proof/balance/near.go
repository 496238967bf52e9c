package balance

import (
	"math"

	"threeply/proof/cube"
	"threeply/proof/spectrum"
)

// Near returns the relative thicknesses, by printer, whose print comes nearest to
// want: one search in the cube, not the stack, in the metric of CIEDE2000 around
// want and from the nearest node; none at all where that node lies farther than
// far off in CIELAB. Within reach it is as good as the cube, save in nearly black
// layers; out of reach it ends close to the nearest colour, not always at it. dE is
// the CIEDE2000 difference left. Thicknesses lie between 0 and the last node.
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

// around is the metric of CIEDE2000 close to a colour: lightness, chroma and
// hue differences over their weights there. It leaves out the term that turns
// the ellipses of the blues, and is no measure of large differences.
func around(l spectrum.Lab) *metric {
	c := math.Hypot(l[1], l[2])
	d := l[0] - 50
	m := metric{{1 / (1 + 0.015*d*d/math.Sqrt(20+d*d))}, {0, 1}, {0, 0, 1}}
	if c > 0 {
		sc, sh := 1+0.045*c, 1+0.015*c
		m[1] = [3]float64{0, l[1] / c / sc, l[2] / c / sc}
		m[2] = [3]float64{0, -l[2] / c / sh, l[1] / c / sh}
	}
	return &m
}

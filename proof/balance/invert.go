package balance

import (
	"math"

	"threeply/proof/cube"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Invert returns the relative thicknesses, by printer, whose print comes
// nearest to want, and the CIEDE2000 difference that is left: next to nothing
// inside the reach of the recipe, what must be lost outside. c is the cube of
// the same recipe and light; its nearest node is where the search in the exact
// stack starts. Thicknesses lie between 0 and the last node of the cube.
func Invert(r stack.Recipe, c *cube.Cube, light spectrum.Light, want spectrum.Lab) (t [3]float64, dE float64) {
	s := newSolver(r, light)
	in := upTo(c.Max)
	least := math.Inf(1)
	var lab spectrum.Lab
	for _, start := range starts(c.Near(want)) {
		x, l := s.fit(start, want, &euclid, in)
		if d := l.Distance(want); d < least {
			t, lab, least = x, l, d
		}
		if least < 1e-6 {
			return t, spectrum.DeltaE00(lab, want)
		}
	}
	near, nearLab := s.fit(t, want, around(want), in)
	dE = spectrum.DeltaE00(lab, want)
	if d := spectrum.DeltaE00(nearLab, want); d < dE {
		t, dE = near, d
	}
	return s.walk(t, dE, want, in)
}

// starts lists where to search from. A layer that is nearly opaque hardly
// changes the colour any more: a search that begins with too much of it finds
// no way back, so the later starts have less.
func starts(first [3]float64) [][3]float64 {
	all := [][3]float64{first}
	for _, most := range []float64{1.2, 0.7, 0.35} {
		all = append(all, [3]float64{min(first[0], most), min(first[1], most), min(first[2], most)})
	}
	for j, x := range first {
		less := first
		less[j] = x / 2
		all = append(all, less)
	}
	return all
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

// walk lowers the CIEDE2000 difference itself, whose slopes are not to be
// trusted: it tries a step up and down each layer and halves the step where
// none helps (R. Hooke and T. A. Jeeves, J. ACM 8, 1961, 212, without the
// pattern move).
func (s *solver) walk(t [3]float64, dE float64, want spectrum.Lab, in bounds) ([3]float64, float64) {
	for step := 0.05; step > 1e-4; {
		better := false
		for j := range t {
			for _, d := range [2]float64{step, -step} {
				next := t
				next[j] += d
				next = in.clamp(next)
				lab, _ := s.lab(next)
				if e := spectrum.DeltaE00(lab, want); e < dE-1e-9 {
					t, dE, better = next, e, true
					break
				}
			}
		}
		if !better {
			step /= 2
		}
	}
	return t, dE
}

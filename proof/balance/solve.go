package balance

import (
	"math"

	"threeply/proof/linear"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// DefaultLimit is the largest relative thickness that a layer takes in the depth:
// a workshop lets its black use 75 to 85 % of every coat, for at the full coat a
// layer hardens to its backing and strips badly (from memory).
const DefaultLimit = 0.8

// solver is a recipe in one light, for exact colours and their slopes.
type solver struct {
	layers  *stack.Layers
	weights [3]spectrum.Curve
	white   spectrum.XYZ

	pause func() // is called after every few fits
	fits  int
}

// fitsAtOnce is how many fits are made between two pauses.
const fitsAtOnce = 48

func newSolver(r stack.Recipe, light spectrum.Light) *solver {
	return &solver{layers: r.Layers(), weights: light.Weights(), white: light.White, pause: func() {}}
}

// lab returns the colour at t and its derivatives by the three thicknesses:
// slope[i][j] is dLab[i]/dt[j].
func (s *solver) lab(t [3]float64) (lab spectrum.Lab, slope [3][3]float64) {
	out, by := s.layers.Slopes(t)
	var x spectrum.XYZ
	var dx [3][3]float64
	for ch := range x {
		w := &s.weights[ch]
		for i, v := range w {
			x[ch] += v * out[i]
			dx[ch][0] += v * by[0][i]
			dx[ch][1] += v * by[1][i]
			dx[ch][2] += v * by[2][i]
		}
	}
	lab = x.Lab(s.white)
	for j := range 3 {
		var f [3]float64
		for ch := range f {
			f[ch] = rootSlope(x[ch]/s.white[ch]) * dx[ch][j] / s.white[ch]
		}
		slope[0][j], slope[1][j], slope[2][j] = 116*f[1], 500*(f[0]-f[1]), 200*(f[1]-f[2])
	}
	return lab, slope
}

// rootSlope is the derivative of CIELAB's f.
func rootSlope(t float64) float64 {
	const delta = 6.0 / 29
	if t > delta*delta*delta {
		c := math.Cbrt(t)
		return 1 / (3 * c * c)
	}
	return 1 / (3 * delta * delta)
}

// metric turns a difference in CIELAB into three numbers whose squares are
// added up and made small.
type metric [3][3]float64

var euclid = metric{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

func (m *metric) apply(v [3]float64) (out [3]float64) {
	for i := range out {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

// bounds are the least and the largest relative thicknesses allowed.
type bounds struct{ lo, hi [3]float64 }

// upTo is the bounds from nothing to the same limit for all layers.
func upTo(limit float64) bounds { return bounds{hi: [3]float64{limit, limit, limit}} }

func (b *bounds) clamp(t [3]float64) [3]float64 {
	for j := range t {
		t[j] = min(max(t[j], b.lo[j]), b.hi[j])
	}
	return t
}

// fit brings the colour of the exact stack, not of a table, as near to want as the
// bounds let it; see the function fit.
func (s *solver) fit(t [3]float64, want spectrum.Lab, m *metric, in bounds) ([3]float64, spectrum.Lab) {
	if s.fits++; s.fits%fitsAtOnce == 0 {
		s.pause()
	}
	return fit(s.lab, t, want, m, in)
}

// fit moves the thicknesses t so that the colour comes as near to want as the bounds
// let it, by Levenberg and Marquardt's method (D. W. Marquardt, J. SIAM 11, 1963, 431).
// A layer at a bound is held there while the method would push it outwards. look gives
// a colour and its slopes. It is a local search: it ends in the valley where t began.
func fit(look func([3]float64) (spectrum.Lab, [3][3]float64), t [3]float64, want spectrum.Lab, m *metric, in bounds) (best [3]float64, lab spectrum.Lab) {
	t = in.clamp(t)
	residual := func(l spectrum.Lab) [3]float64 {
		return m.apply([3]float64{l[0] - want[0], l[1] - want[1], l[2] - want[2]})
	}
	lab, slope := look(t)
	r := residual(lab)
	cost := dot(r, r)
	damp := 1e-3
	for range 60 {
		if cost < 1e-14 {
			break
		}
		var jac [3][3]float64 // jac[j] is the residual's derivative by t[j]
		for j := range jac {
			jac[j] = m.apply([3]float64{slope[0][j], slope[1][j], slope[2][j]})
		}
		step, ok := dampedStep(&jac, r, t, &in, damp)
		if !ok {
			break
		}
		next, moved := t, 0.0
		for j := range next {
			next[j] += step[j]
		}
		next = in.clamp(next)
		for j := range next {
			moved = max(moved, math.Abs(next[j]-t[j]))
		}
		nextLab, nextSlope := look(next)
		nextR := residual(nextLab)
		if c := dot(nextR, nextR); c < cost {
			t, lab, slope, r, cost = next, nextLab, nextSlope, nextR, c
			damp = max(damp/10, 1e-9)
		} else {
			damp *= 10
		}
		if moved < 1e-8 || damp > 1e9 {
			break
		}
	}
	return t, lab
}

// dampedStep solves (JᵀJ + damp·diag(JᵀJ)) step = -Jᵀr over the layers that are
// free to move. ok is false where none is.
func dampedStep(jac *[3][3]float64, r, t [3]float64, in *bounds, damp float64) (step [3]float64, ok bool) {
	var a [9]float64
	var b [3]float64
	for i := range b {
		b[i] = -dot(jac[i], r)
		if t[i] <= in.lo[i] && b[i] < 0 || t[i] >= in.hi[i] && b[i] > 0 {
			jac[i], b[i] = [3]float64{}, 0
			continue
		}
		ok = true
	}
	for i := range b {
		for j := range b {
			a[3*i+j] = dot(jac[i], jac[j])
		}
		if d := a[4*i]; d > 0 {
			a[4*i] += damp * d
		} else {
			a[4*i] = 1
		}
	}
	if !linear.Solve(a[:], b[:], 0) {
		return step, false // three layers of one colour
	}
	return b, ok
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

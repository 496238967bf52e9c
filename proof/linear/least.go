package linear

import "slices"

// enough is the share of the sum of squares by which a step must bring it down for another to
// follow.
const enough = 1e-5

// LeastSquares looks for the few unknowns whose misses, each in standard deviations, have the
// least sum of squares, by K. Levenberg and D. W. Marquardt (J. SIAM 11, 1963, 431), from x
// on, with slopes by small differences. within brings unknowns back into their bounds. It
// returns them and their covariance, row by row.
func LeastSquares(x []float64, misses func(x []float64) []float64, within func(x []float64), steps int) (best, cov []float64) {
	n, damp := len(x), 1e-3
	normal := func(at []float64) (h, b []float64) {
		h, b = make([]float64, n*n), make([]float64, n)
		slopes := make([][]float64, n)
		for i := range x {
			const step = 1e-4
			moved := slices.Clone(x)
			moved[i] += step
			slopes[i] = misses(moved)
			for k, v := range at {
				slopes[i][k] = (slopes[i][k] - v) / step
			}
		}
		for i := range n {
			for k, v := range at {
				b[i] -= slopes[i][k] * v
			}
			for j := range i + 1 {
				for k := range at {
					h[i*n+j] += slopes[i][k] * slopes[j][k]
				}
				h[j*n+i] = h[i*n+j]
			}
		}
		return h, b
	}
	squares := func(v []float64) (sum float64) {
		for _, x := range v {
			sum += x * x
		}
		return sum
	}
	now := misses(x)
	for range steps {
		h, b := normal(now)
		before := squares(now)
		for damp < 1e8 {
			damped, delta := slices.Clone(h), slices.Clone(b)
			for i := range n {
				damped[i*n+i] *= 1 + damp
			}
			next := slices.Clone(x)
			if Solve(damped, delta, 0) {
				for i := range next {
					next[i] += delta[i]
				}
				within(next)
				if v := misses(next); squares(v) < squares(now) {
					x, now, damp = next, v, damp/5
					break
				}
			}
			damp *= 10
		}
		if squares(now) > before*(1-enough) {
			break
		}
	}
	h, _ := normal(now)
	cov = make([]float64, n*n)
	for i := range n {
		cov[i*n+i] = 1
	}
	Solve(h, cov, 0)
	return x, cov
}

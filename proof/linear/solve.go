// Package linear solves the small systems of equations that fits and maps lead
// to. All of them are dense and have a handful of unknowns.
package linear

import "math"

// Solve solves a·x = b in place by Gauss's elimination with row pivots: a, row by
// row, is lost, and b, a row for each unknown of as many values as there are right
// sides, becomes x. ok is false where the equations are as good as singular: where
// a pivot is no larger than least times the largest value of a's diagonal, or is
// zero. a must be square, and b have as many rows.
func Solve(a, b []float64, least float64) (ok bool) {
	n := int(math.Round(math.Sqrt(float64(len(a)))))
	if n*n != len(a) || n == 0 || len(b)%n != 0 {
		panic("linear: the equations have no square matrix, or not as many rows")
	}
	sides := len(b) / n
	largest := 0.0
	for i := range n {
		largest = max(largest, math.Abs(a[i*n+i]))
	}
	for c := range n {
		pivot := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r*n+c]) > math.Abs(a[pivot*n+c]) {
				pivot = r
			}
		}
		if size := math.Abs(a[pivot*n+c]); !(size > least*largest && size > 0 && !math.IsInf(size, 1)) {
			return false
		}
		if pivot != c {
			swap(a[c*n:(c+1)*n], a[pivot*n:(pivot+1)*n])
			swap(b[c*sides:(c+1)*sides], b[pivot*sides:(pivot+1)*sides])
		}
		for r := c + 1; r < n; r++ {
			f := a[r*n+c] / a[c*n+c]
			for k := c; k < n; k++ {
				a[r*n+k] -= f * a[c*n+k]
			}
			for k := range sides {
				b[r*sides+k] -= f * b[c*sides+k]
			}
		}
	}
	for r := n - 1; r >= 0; r-- {
		for k := range sides {
			x := b[r*sides+k]
			for c := r + 1; c < n; c++ {
				x -= a[r*n+c] * b[c*sides+k]
			}
			b[r*sides+k] = x / a[r*n+r]
		}
	}
	return true
}

func swap(a, b []float64) {
	for i := range a {
		a[i], b[i] = b[i], a[i]
	}
}

package neutral

import (
	"math"
	"slices"

	"threeply/proof/order"
)

// middle returns the median and the standard deviation of a normal spread that
// has the same median distance from it. It changes the order of v.
func middle(v []float64) (median, spread float64) {
	if len(v) == 0 {
		return 0, 0
	}
	median = medianOf(v)
	off := make([]float64, len(v))
	for i, x := range v {
		off[i] = math.Abs(x - median)
	}
	const normal = 1.4826 // standard deviation over median absolute deviation
	return median, normal * medianOf(off)
}

// medianOf returns the median of v, which is not empty, and changes the order of v.
func medianOf(v []float64) float64 {
	n := len(v)
	high := order.Nth(v, n/2)
	if n%2 == 1 {
		return high
	}
	return (slices.Max(v[:n/2]) + high) / 2
}

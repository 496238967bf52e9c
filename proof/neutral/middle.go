package neutral

import (
	"math"
	"slices"
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
	high := ranked(v, n/2)
	if n%2 == 1 {
		return high
	}
	return (slices.Max(v[:n/2]) + high) / 2
}

// ranked returns the value that would stand at index k if v were sorted, and puts no greater ones
// before it and no smaller ones after it (C. A. R. Hoare, Algorithm 65: find, Commun. ACM 4
// (1961) 321). What is left at last, a few values, is sorted.
func ranked(v []float64, k int) float64 {
	const few = 12
	from, to := 0, len(v)-1
	for to-from >= few {
		a, b, c := v[from], v[(from+to)/2], v[to]
		pivot := max(min(a, b), min(max(a, b), c)) // the middle one of three
		i, j := from, to
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			to = j
		case k >= i:
			from = i
		default:
			return v[k]
		}
	}
	slices.Sort(v[from : to+1])
	return v[k]
}

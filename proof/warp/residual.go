package warp

import "slices"

// Residual sums up how far places lie off, in pixels of the key.
type Residual struct {
	Median float64 `json:"median"`
	P95    float64 `json:"p95"`
	Max    float64 `json:"max"`
}

// Summary sorts distances and sums them up; of none it is zero.
func Summary(distances []float64) Residual {
	n := len(distances)
	if n == 0 {
		return Residual{}
	}
	slices.Sort(distances)
	return Residual{Median: distances[n/2], P95: distances[min(n*95/100, n-1)], Max: distances[n-1]}
}

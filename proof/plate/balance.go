package plate

import (
	"cmp"
	"fmt"
	"slices"

	"threeply/proof/filter"
)

// Contrast compares the density ranges of three plates. The plates of a
// balanced set render the same grey scale with the same contrast; where the
// slopes differ, a cast changes with tone and no exposure change cures it.
type Contrast struct {
	Range [3]float64 `json:"range"` // density range of the red, green and blue plate
	Ratio float64    `json:"ratio"` // widest over narrowest, 1 or more; 0 where a plate has no range
	Words string     `json:"words"`
}

// Bounds of the ratio of ranges, common practice without a source. The scene's
// own colours change the ranges too, so the lower one is wide.
const (
	balancedRatio = 1.15
	correctable   = 1.6
)

// leastRange is a density range that no picture stays below.
const leastRange = 0.1

// Balance reports the imbalance of contrast of the red, the green and the blue
// plate. It compares the whole pictures; greys in the scene say it more surely.
func Balance(plates [3]Source) Contrast {
	var c Contrast
	order := filter.All[:]
	for _, f := range filter.All {
		c.Range[f] = plates[f].Range()
	}
	order = slices.SortedStableFunc(slices.Values(order), func(a, b filter.Filter) int { return cmp.Compare(c.Range[a], c.Range[b]) })
	low, high := order[0], order[2]
	if c.Range[low] < leastRange {
		c.Words = fmt.Sprintf("The %s plate is nearly even: its densities span only %.2f.", low, max(c.Range[low], 0))
		return c
	}
	c.Ratio = c.Range[high] / c.Range[low]
	spans := fmt.Sprintf("the %s plate spans %.2f in density, the %s plate %.2f", high, c.Range[high], low, c.Range[low])
	switch {
	case c.Ratio < balancedRatio:
		c.Words = fmt.Sprintf("The plates agree in contrast: %s.", spans)
	case c.Ratio < correctable:
		c.Words = fmt.Sprintf("The plates differ in contrast by %.0f %%: %s. Curves per layer can even this out.", 100*(c.Ratio-1), spans)
	default:
		c.Words = fmt.Sprintf("The plates differ strongly in contrast, %.1f to 1: %s. Check that all were scanned with the same settings.", c.Ratio, spans)
	}
	return c
}

// Balance reports the imbalance of contrast of the set.
func (s *Set) Balance() Contrast {
	return Balance([3]Source{s.Sources[s.Assign[filter.Red]], s.Sources[s.Assign[filter.Green]], s.Sources[s.Assign[filter.Blue]]})
}

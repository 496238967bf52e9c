package fit

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/pigment"
)

// Compare says what has drifted since earlier measurements of the palette, and finds the
// ratio of the exposures; base is as Ratio has it.
func (r *Result) Compare(earlier []pigment.Palette, now pigment.Palette, base [3]float64) {
	r.Drift = Drifts(earlier, now)
	r.ExposureRatio, r.basesKnown = r.Ratio(base)
}

// RatioWords says the ratio of the exposures, once it was found.
func (r *Result) RatioWords() string {
	if r.ExposureRatio == nil {
		return ""
	}
	s := fmt.Sprintf("Exposures for half a coat: cyan 1 : yellow %.2g : magenta %.2g", r.ExposureRatio["yellow"], r.ExposureRatio["magenta"])
	if !r.basesKnown {
		s += ", times each layer’s own base exposure"
	}
	return s + "."
}

// Ratio is the exposures of the layers under one lamp that leave half of what their base
// exposures leave, cyan's as 1, which is how the trade states them (1 : 2 : 3 of cyan, yellow
// and magenta, Practical Photography, c. 1910); nil where a curve never comes down to a half.
// base holds the base exposures of the sheet, by printer, in one unit; where one of them is not
// known, which is 0, all are taken as alike, and known is false.
func (r *Result) Ratio(base [3]float64) (ratio map[string]float64, known bool) {
	known = !slices.Contains(base[:], 0)
	var light [3]float64
	for i, name := range printerNames() {
		c := r.Layers[name].Curve
		k := slices.IndexFunc(c, func(s Step) bool { return s.Amount >= 0.5 })
		if k < 1 {
			return nil, known
		}
		a, b := c[k-1], c[k]
		logE := a.LogE + (b.LogE-a.LogE)*(0.5-a.Amount)/(b.Amount-a.Amount)
		light[i] = math.Pow(10, logE)
		if known {
			light[i] *= base[i]
		}
	}
	ratio = map[string]float64{}
	for i, name := range printerNames() {
		ratio[name] = light[i] / light[pigment.Cyan]
	}
	return ratio, known
}

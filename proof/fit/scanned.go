package fit

import (
	"slices"

	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Density is what was read of one patch through three channels, absolute, and the standard
// deviations that it is taken to have.
type Density struct{ D, Sigma [3]float64 }

// Scanned are readings off a scan: the densities of patches, by their places, through the
// channels of a scanner. The error says what is missing.
func Scanned(sheet *testsheet.Sheet, scanner spectrum.Status, patches map[string]Density) (*Readings, error) {
	out := &Readings{Way: Scan, by: map[string]*read{}, step: 1, to: spectrum.N - 1, status: scanner}
	out.light, _ = spectrum.LightByID("D50")
	for id, d := range patches {
		out.by[id] = &read{density: d.D, sigma: d.Sigma, line: "patch " + id}
	}
	return out, out.whole(sheet)
}

// byDensity tells whether the readings are densities.
func (r *Readings) byDensity() bool { return slices.Contains([]string{Densitometer, Scan}, r.Way) }

// Strays is how far the readings lie from what a recipe is taken to print, as a sum of squares
// over the sheet, after the straight line between both: the less, the likelier were they read
// where their patches lie.
func (r *Readings) Strays(sheet *testsheet.Sheet, recipe stack.Recipe) (sum float64) {
	for _, v := range r.strays(r.expected(sheet, recipe), func(p testsheet.Patch) string { return p.ID }, sheet) {
		sum += v
	}
	return sum
}

package stack

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
)

// A check of hue alone against the solids of offset printing, ISO 12647-2:2013
// (C 56 -35 -53, M 48 75 -5, Y 89 -4 92, second-hand): modern tissues at 0.6 of a
// coat are of the same family.
func TestHuesOfModernSolids(t *testing.T) {
	d50, _ := spectrum.LightByID("D50")
	for _, p := range pigment.Palettes()[:2] {
		r := DefaultRecipe(p)
		for printer, offset := range [3]spectrum.Lab{{89, -4, 92}, {48, 75, -5}, {56, -35, -53}} {
			var x [3]float64
			x[printer] = 0.6
			l := d50.Lab(r.Reflectance(x))
			turn := math.Remainder(math.Atan2(l[2], l[1])-math.Atan2(offset[2], offset[1]), 2*math.Pi) * 180 / math.Pi
			t.Logf("%s %s: %.1f, hue %+.0f° from the offset solid", p.ID, pigment.Printer(printer), l, turn)
			if !(math.Abs(turn) < 30) {
				t.Errorf("%s %s is of another hue", p.ID, pigment.Printer(printer))
			}
		}
	}
}

package mask

import (
	"math"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/tone"
)

// A test of direction, on the colours of dyes and pigments of one kind: unmasked
// three-colour prints show reds and oranges too light, reds towards orange and
// magentas towards red; blues, cyans and greens too dark, cyans and greens towards
// blue (US Army photo manual SS0514). Historic pigments dull far more; of them the
// darkness alone is asked. The colours are invented, of middle saturation; the plates
// are exposed by the three channels of linear sRGB, as the reference here is.
func TestUnmaskedPrintsErrAsDescribed(t *testing.T) {
	d50 := spectrum.Lights()[0]
	hue := func(l spectrum.Lab) float64 { return math.Atan2(l[2], l[1]) * 180 / math.Pi }
	for _, c := range []struct {
		name    string
		rgb     [3]float64
		lighter float64 // sign of what is described; 0 where nothing is
		turns   float64 // sign of the hue angle's change: to orange, to red and to blue it grows
	}{
		{"red", [3]float64{.45, .06, .05}, 1, 1},
		{"orange", [3]float64{.6, .2, .04}, 1, 0},
		{"magenta", [3]float64{.45, .06, .35}, 0, 1},
		{"green", [3]float64{.06, .3, .08}, -1, 1},
		{"cyan", [3]float64{.06, .35, .45}, -1, 1},
		{"blue", [3]float64{.05, .07, .4}, -1, 0},
	} {
		for _, p := range pigment.Palettes() {
			r := stack.DefaultRecipe(p)
			s := balance.Neutral(r, d50, balance.DefaultLimit)
			var amounts [3]float64
			for i := range amounts {
				amounts[i] = s.Thickness(tone.Depth01(c.rgb[2-i]))[i]
			}
			got, want := d50.Lab(r.Reflectance(amounts)), s.Onto(spectrum.SRGBLab(c.rgb))
			by, turn := got[0]-want[0], math.Remainder(hue(got)-hue(want), 360)
			t.Logf("%-10s %-7s L* %+.1f, hue %+.1f°", p.ID, c.name, by, turn)
			modern := p.Era == pigment.Modern
			if (modern || c.lighter < 0) && c.lighter*by < 0 {
				t.Errorf("%s: %s changes by L* %+.1f", p.ID, c.name, by)
			}
			if modern && c.turns*turn < 0 {
				t.Errorf("%s: %s turns by %+.1f°", p.ID, c.name, turn)
			}
		}
	}
}

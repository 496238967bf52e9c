package tone

import (
	"math"
	"testing"
)

// Three films of unequal exposure and γ, one of them a positive, that agree on
// greys. Together they read any grey alike from white to black, and no plate's
// picture lies beyond either end.
func TestTogetherKeepsGreysGrey(t *testing.T) {
	films := [3]Film{
		{Negative: true, White: 1.7, Black: 0.5, Gamma: 0.9},
		{Negative: true, White: 1.5, Black: 0.4, Gamma: 0.7},
		{Negative: false, White: 0.4, Black: 1.9, Gamma: 1},
	}
	thin, dense := [3]float64{0.35, 0.3, 0.1}, [3]float64{1.9, 1.4, 2.1}
	got := Together(films, thin, dense)
	for h := -1.4; h <= 0.1; h += 0.1 {
		var e [3]float64
		for i, f := range films {
			e[i] = got[i].Exposure(f.Density(h))
		}
		if math.Abs(e[0]-e[1]) > 1e-9 || math.Abs(e[2]-e[1]) > 1e-9 {
			t.Errorf("log H %.1f reads %v", h, e)
		}
	}
	whites := 0
	for i := range got {
		for _, d := range []float64{thin[i], dense[i]} {
			switch e := got[i].Exposure(d); {
			case e == 1:
				whites++
			case e > 1 || e < 0:
				t.Errorf("plate %d: density %.2f reads %g", i, d, e)
			}
		}
		if got[i].Gamma != films[i].Gamma {
			t.Errorf("plate %d: γ changed", i)
		}
	}
	if whites == 0 {
		t.Error("the white lies beyond what any plate holds")
	}
}

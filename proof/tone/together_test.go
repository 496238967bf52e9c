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
	got := Together(films, thin, dense, [3]float64{-1, -1, -1})
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

// A plate that has run down to its base is black, and the others are with it.
func TestTogetherIsBlackWhereAPlateRunsOut(t *testing.T) {
	films := [3]Film{
		{Negative: true, White: 1.6, Black: 0.5, Gamma: 0.8},
		{Negative: true, White: 1.6, Black: 0.4, Gamma: 0.8},
		{Negative: true, White: 1.4, Black: 0.4, Gamma: 0.8}, // a quarter stop less light and more: it reaches base first
	}
	base := [3]float64{0.3, 0.3, 0.3}
	got := Together(films, [3]float64{0.32, 0.31, 0.3}, [3]float64{1.7, 1.6, 1.4}, base)
	for i, f := range got {
		if h := f.Exposure(base[i]); h != 0 {
			t.Errorf("plate %d: base and fog reads %g", i, h)
		}
	}
	if math.Abs(got[2].Black-base[2]) > 1e-9 {
		t.Errorf("the black lies at %.3f of the plate that runs out first, not on its base", got[2].Black)
	}
}

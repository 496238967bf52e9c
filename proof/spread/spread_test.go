package spread

import (
	"math"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

func TestSpread(t *testing.T) {
	light := spectrum.Lights()[0]
	for _, p := range pigment.Palettes() {
		r := stack.DefaultRecipe(p)
		s := balance.Neutral(r, light, balance.DefaultLimit)
		for _, u := range []float64{0.25, 0.5, 0.75, 1} {
			o := Default.Of(r, light, s.Thickness(u))
			t.Logf("%-10s tone %.2f: ±%.1f, L* %.1f %.1f %.1f, first %s %s %.2f", p.ID, u, o.DeltaE,
				o.Lighter[0], o.Likely[0], o.Heavier[0], o.Causes[0].Layer, o.Causes[0].What, o.Causes[0].DeltaE)
			if u < 1 && !(o.Lighter[0] > o.Likely[0] && o.Likely[0] > o.Heavier[0]) {
				t.Errorf("%s at %g: lighter %v, likely %v, heavier %v", p.ID, u, o.Lighter, o.Likely, o.Heavier)
			}
			sum := 0.0
			for i, c := range o.Causes {
				sum += c.DeltaE * c.DeltaE
				if i > 0 && c.DeltaE > o.Causes[i-1].DeltaE {
					t.Errorf("%s: causes are out of order", p.ID)
				}
			}
			if !(math.Abs(math.Sqrt(sum)-o.DeltaE) < 1e-9 && o.DeltaE > 0.3) {
				t.Errorf("%s: %v from causes of %v", p.ID, o.DeltaE, math.Sqrt(sum))
			}
			if len(o.Causes) != 10 {
				t.Errorf("%s: %d causes, want 3 a layer and the surface", p.ID, len(o.Causes))
			}
		}
	}
}

// Haze decides the deep blacks of a scattering palette, and nothing where
// there is no pigment.
func TestWhatMovesIt(t *testing.T) {
	light := spectrum.Lights()[0]
	p, _ := pigment.PaletteByID("arylide")
	r := stack.DefaultRecipe(p)
	alone := Limits{Haze: 0.5}
	black := alone.Of(r, light, balance.Neutral(r, light, 1).Depth.Thickness)
	if !(black.DeltaE > 0.2) {
		t.Errorf("haze moves the black by %v", black.DeltaE)
	}
	bare := alone.Of(r, light, [3]float64{})
	if bare.DeltaE != 0 || len(bare.Causes) != 0 {
		t.Errorf("haze moves bare paper: %+v", bare)
	}
	if none := (Limits{}).Of(r, light, [3]float64{1, 1, 1}); none.DeltaE != 0 || none.Lighter != none.Likely {
		t.Errorf("no spread, yet %+v", none)
	}
	if p2, _ := pigment.PaletteByID("arylide"); r.Palette.Cyan.Load != p2.Cyan.Load {
		t.Error("the caller's palette was changed")
	}
}

func TestLimitsCheck(t *testing.T) {
	if err := Default.Check(); err != nil {
		t.Error(err)
	}
	for _, l := range []Limits{{Load: -0.1}, {Thickness: 1}, {Haze: math.NaN()}} {
		if l.Check() == nil {
			t.Errorf("%+v passes", l)
		}
	}
}

func BenchmarkOf(b *testing.B) {
	p, _ := pigment.PaletteByID("earth")
	r, light := stack.DefaultRecipe(p), spectrum.Lights()[0]
	for b.Loop() {
		Default.Of(r, light, [3]float64{0.5, 0.4, 0.5})
	}
}

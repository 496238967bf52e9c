package stack

import (
	"math"
	"testing"

	"threeply/proof/pigment"
)

// A clear layer seen on slanting ways is as dark as the two-flux layer of the K·X that
// clearLayerK finds for it, whose figures are published after F. C. Williams and F. R.
// Clapper, JOSA 43 (1953) 595. The two faces differ, 0.60 here and 0.614
// there, by up to 0.013 in density.
func TestSlantingIsTheClearLayer(t *testing.T) {
	s := Gloss.Surface
	worst := 0.0
	for _, paper := range []float64{0.9, 0.6} {
		ground := s.Inside(paper)
		for _, d := range []float64{0.02, 0.05, 0.1, 0.25, 0.5, 1} {
			more, _, _ := s.Slanting(math.Ln10*d, ground)
			got := s.Outside(ground*math.Exp(-2*math.Ln10*d)) + more
			want := s.Outside(ground * math.Exp(-2*clearLayerK(d, ground, s)))
			worst = max(worst, math.Abs(math.Log10(got/want)))
		}
	}
	t.Logf("largest difference of density %.4f", worst)
	if !(worst < 0.015) {
		t.Error("slanting light is not that of Williams and Clapper")
	}
	for _, ground := range []float64{0, 0.3, 0.9} {
		if more, _, _ := s.Slanting(0, ground); math.Abs(more) > 1e-15 {
			t.Errorf("without pigment %g is added", more)
		}
	}
}

// The slopes are those of small differences, alone and in a recipe.
func TestSlantingSlopes(t *testing.T) {
	s := Satin.Surface
	const h = 1e-6
	for _, a := range []float64{0.011, 0.5, 1.7} {
		for _, ground := range []float64{0.1, 0.9} {
			_, byA, byGround := s.Slanting(a, ground)
			up, _, _ := s.Slanting(a+h, ground)
			down, _, _ := s.Slanting(a-h, ground)
			if d := (up - down) / (2 * h); math.Abs(d-byA) > 1e-6 {
				t.Errorf("absorption %g: %g, want %g", a, byA, d)
			}
			up, _, _ = s.Slanting(a, ground+h)
			down, _, _ = s.Slanting(a, ground-h)
			if d := (up - down) / (2 * h); math.Abs(d-byGround) > 1e-6 {
				t.Errorf("ground %g: %g, want %g", ground, byGround, d)
			}
		}
	}
	p, _ := pigment.PaletteByID("chrome")
	p.Measured = &pigment.Measurement{Angular: true}
	l := DefaultRecipe(p).Layers()
	at := [3]float64{0.31, 0.42, 0.23}
	out, by := l.Slopes(at)
	plain := l.Reflectance(at)
	for j := range at {
		up, down := at, at
		up[j] += h
		down[j] -= h
		a, b := l.Reflectance(up), l.Reflectance(down)
		for i := range a {
			if d := (a[i] - b[i]) / (2 * h); math.Abs(d-by[j][i]) > 1e-3 || math.Abs(out[i]-plain[i]) > 1e-14 {
				t.Fatalf("layer %d, sample %d: slope %g, want %g", j, i, by[j][i], d)
			}
		}
	}
	l.Optics = TwoFlux
	if q := l.Reflectance(at); q == plain {
		t.Error("slanting light changes nothing")
	}
}

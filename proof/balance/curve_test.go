package balance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"
)

func TestTonesIsTheInverse(t *testing.T) {
	s := Neutral(recipe(t, "lemon"), d50(), DefaultLimit)
	for i := range 101 {
		u := float64(i) / 100
		for j, got := range s.Tones(s.Thickness(u)) {
			if !(math.Abs(got-u) < 1e-6) {
				t.Errorf("tone %g layer %d comes back as %g", u, j, got)
			}
		}
	}
	if got := s.Tones([3]float64{9, 9, 9}); got != [3]float64{1, 1, 1} {
		t.Errorf("beyond the depth: %v", got)
	}
}

// The general-purpose library has the same cubic.
func TestThicknessAgainstLibrary(t *testing.T) {
	s := Neutral(recipe(t, "earth"), d50(), DefaultLimit)
	for j := range 3 {
		var x, y []float64
		for i, p := range s.T {
			x, y = append(x, float64(i)/(Steps-1)), append(y, p[j])
		}
		var f interp.FritschButland
		if err := f.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		for u := 1.0 / (Steps - 1); u <= 1-1.0/(Steps-1); u += 0.001 {
			if got, want := s.Thickness(u)[j], f.Predict(u); !(math.Abs(got-want) < 1e-9) {
				t.Fatalf("layer %d at %g: %v, library %v", j, u, got, want)
			}
		}
	}
}

package balance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"

	"threeply/proof/spectrum"
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

// White goes to the paper, black to the depth, and a neutral between to the aim of
// the scale there.
func TestOnto(t *testing.T) {
	s := Neutral(recipe(t, "gamboge"), d50(), DefaultLimit)
	for u := 0.0; u <= 1; u += 0.25 {
		if got, want := s.Onto(spectrum.Lab{100 * (1 - u), 0, 0}), fade(s.Paper, s.Depth.Lab, u); got.Distance(want) > 1e-9 {
			t.Errorf("tone %g: %.3f, want %.3f", u, got, want)
		}
	}
	if got := s.Onto(spectrum.Lab{100, 10, -5}); math.Abs(got[1]-s.Paper[1]-10) > 1e-9 || math.Abs(got[2]-s.Paper[2]+5) > 1e-9 {
		t.Errorf("a tint over the paper: %v", got)
	}
}

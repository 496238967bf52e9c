package words

import (
	"math"
	"testing"
)

// TestLeaning asks for words that a painter would use of colours whose CIELAB hue angles the
// colour names of everyday pigments have (from memory: red 20–45°, yellow 85–100°, green
// 130–175°, blue 250–295°).
func TestLeaning(t *testing.T) {
	for _, c := range []struct {
		lab  [3]float64
		want string
	}{
		{[3]float64{20, 0, 0}, "neutral"}, {[3]float64{20, 0.7, -0.7}, "neutral"},
		{[3]float64{20, 2, 1}, "faintly reddish"}, {[3]float64{20, 8, 4}, "reddish"}, {[3]float64{20, 0, 8}, "yellowish"},
		{[3]float64{20, -8, 3}, "greenish"}, {[3]float64{20, -6, -6}, "blue-green"}, {[3]float64{20, 1, -9}, "bluish"},
		{[3]float64{20, 6, -6}, "violet"}, {[3]float64{20, 9, -0.5}, "rosy"}, {[3]float64{20, 9, 0.5}, "rosy"},
	} {
		if got := Leaning(c.lab); got != c.want {
			t.Errorf("%v leans %q, want %q", c.lab, got, c.want)
		}
	}
	if got := Leaning([3]float64{20, math.NaN(), 0}); got != "neutral" {
		t.Errorf("no number leans %q", got)
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		v              float64
		digits         int
		figure, signed string
	}{
		{0, 1, "0.0", "0.0"}, {-0.04, 1, "0.0", "0.0"}, {0.04, 1, "0.0", "0.0"}, {-1.26, 1, "−1.3", "−1.3"}, {12.34, 0, "12", "+12"},
		{math.NaN(), 2, "–", "–"}, {math.Inf(-1), 2, "–", "–"},
	} {
		if got := Figure(c.v, c.digits); got != c.figure {
			t.Errorf("Figure(%v) is %q, want %q", c.v, got, c.figure)
		}
		if got := Signed(c.v, c.digits); got != c.signed {
			t.Errorf("Signed(%v) is %q, want %q", c.v, got, c.signed)
		}
	}
}

// TestLimits pins the limits of words: our own.
func TestLimits(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Black(11.9), "deep"}, {Black(12), "fair"}, {Black(22), "fair"}, {Black(22.1), "weak"},
		{Whole(0), "whole"}, {Whole(0.019), "whole"}, {Whole(0.02), "nearly whole"}, {Whole(0.1), "reduced"}, {Whole(1), "reduced"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

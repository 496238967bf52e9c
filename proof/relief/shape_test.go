package relief

import (
	"math"
	"testing"
)

// At their ends, alone and all together, the handles leave white and depth where they are
// and never turn the scale back.
func TestShapeNeverTurnsBack(t *testing.T) {
	ends := []float64{-MostShape, 0, MostShape}
	for _, contrast := range ends {
		for _, highlight := range ends {
			for _, shadow := range ends {
				for _, balance := range ends {
					s := Shape{contrast, highlight, shadow, [3]float64{0, balance, 0}}
					if a, b := s.Tone(0, 1), s.Tone(1, 1); math.Abs(a) > 1e-12 || math.Abs(b-1) > 1e-12 {
						t.Errorf("%+v: white goes to %g, the depth to %g", s, a, b)
					}
					last := 0.0
					for i := 1; i <= 1000; i++ {
						u := s.Tone(float64(i)/1000, 1)
						if u <= last {
							t.Fatalf("%+v turns back at %d", s, i)
						}
						last = u
					}
				}
			}
		}
	}
}

// A handle moves tones by its own value where it says, the way that its name says.
func TestShapeMovesByItsValue(t *testing.T) {
	for _, c := range []struct {
		name  string
		s     Shape
		at    float64
		moves float64 // in L*: below 0 for darker
	}{
		{"contrast, lights", Shape{Contrast: 5}, 0.25, 5}, {"contrast, middle", Shape{Contrast: 5}, 0.5, 0}, {"contrast, darks", Shape{Contrast: 5}, 0.75, -5},
		{"highlight", Shape{Highlight: 4}, 0.25, 4}, {"shadow", Shape{Shadow: 3}, 0.75, 3},
		{"balance", Shape{Balance: [3]float64{2, 0, 0}}, 0.5, -2},
	} {
		if got := 100 * (c.at - c.s.Tone(c.at, 0)); math.Abs(got-c.moves) > 1e-9 {
			t.Errorf("%s: %g, want %g", c.name, got, c.moves)
		}
	}
	if got := (Shape{Balance: [3]float64{2, 0, 0}}).Tone(0.5, 1); got != 0.5 {
		t.Errorf("the balance of one layer moves another to %g", got)
	}
}

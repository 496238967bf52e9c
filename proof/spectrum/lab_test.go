package spectrum

import (
	"math"
	"testing"
)

// By the formula of CIE 15:2018, section 8.2.1.
func TestLightnessOfFlatSurfaces(t *testing.T) {
	d50, _ := LightByID("D50")
	worst := 0.0
	for _, c := range [][2]float64{{.18, 49.4961}, {.5, 76.0693}, {.9, 95.9968}, {.01, 8.9914}} {
		l := d50.Lab(flat(c[0]))
		worst = max(worst, math.Abs(l[0]-c[1]), math.Abs(l[1]), math.Abs(l[2]))
		if !(math.Abs(l[0]-c[1]) <= 5e-5 && math.Abs(l[1]) < 1e-9 && math.Abs(l[2]) < 1e-9) {
			t.Errorf("flat %g: %v, want %g 0 0", c[0], l, c[1])
		}
	}
	t.Logf("largest error %.2g", worst)
}

func TestLabRoundTrip(t *testing.T) {
	white := XYZ{96.42, 100, 82.49}
	for _, x := range []XYZ{{}, {.3, .2, .1}, {20, 30, 40}, {96.42, 100, 82.49}, {-1, .5, 120}} {
		back := x.Lab(white).XYZ(white)
		for i := range x {
			if !(math.Abs(back[i]-x[i]) < 1e-10) {
				t.Errorf("%v comes back as %v", x, back)
			}
		}
	}
}

// flat is the curve that is v everywhere.
func flat(v float64) Curve { return Sample(func(float64) float64 { return v }) }

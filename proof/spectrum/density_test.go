package spectrum

import (
	"math"
	"testing"
)

// isoVisual is the visual spectral product of ISO 5-3:2009, peak 100, 400 to
// 770 nm in steps of 10, as tabulated in a BSD-3-licensed colour library.
var isoVisual = []float64{
	.01, .02, .08, .28, .65, 1.23, 2.22, 3.82, 6.58, 10.99, 18.88, 32.58, 50.35, 66.83, 80.35, 90.57, 97.5, 100, 97.5,
	90.36, 79.8, 67.14, 53.83, 39.17, 27.1, 17.3, 10.3, 5.61, 3.09, 1.54, .8, .42, .22, .11, .05, .03, .01, .01,
}

func TestVisualIsVTimesA(t *testing.T) {
	at := func(nm int) float64 { i := (nm - First) / Step; return yBar[i] * powerA[i] }
	worst := 0.0
	for i, want := range isoVisual {
		got := 100 * at(400+10*i) / at(570)
		worst = max(worst, math.Abs(got-want))
	}
	t.Logf("largest difference %.2g of a peak of 100", worst)
	if !(worst <= 0.25) {
		t.Error("V(λ)·A is not the tabulated visual product")
	}
}

func TestDensityOfFlatSurfaces(t *testing.T) {
	for _, d := range []float64{0, 0.3, 1, 2, 3.5} {
		r := flat(math.Pow(10, -d))
		a := StatusA(r)
		for _, got := range []float64{VisualDensity(r), a[0], a[1], a[2]} {
			if !(math.Abs(got-d) < 1e-12) {
				t.Errorf("flat density %g reads %v", d, got)
			}
		}
	}
	if VisualDensity(flat(0)) != MaxDensity {
		t.Error("no light must read MaxDensity")
	}
}

// A filter that lets only long waves pass is clear to red and black to blue.
func TestStatusAChannels(t *testing.T) {
	a := StatusA(Sample(func(nm float64) float64 {
		if nm >= 595 {
			return 1
		}
		return 0.001
	}))
	if !(a[0] < 0.01 && a[1] > 2.9 && a[2] > 2.9) {
		t.Errorf("a red filter reads %v", a)
	}
}

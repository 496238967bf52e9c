package spectrum

import (
	"math"
	"testing"
)

// B. Lindbloom's published chromatic adaptation matrix, Bradford, D50 to D65.
// His white points are those of ASTM E308.
func TestBradfordPublished(t *testing.T) {
	want := [9]float64{
		.9555766, -.0230393, .0631636,
		-.0282895, 1.0099416, .0210077,
		.0122982, -.0204830, 1.3299098,
	}
	got := Adapt(XYZ{96.422, 100, 82.521}, XYZ{95.047, 100, 108.883})
	worst := 0.0
	for i := range want {
		worst = max(worst, math.Abs(got[i]-want[i]))
	}
	t.Logf("largest error %.2g", worst)
	if !(worst <= 1e-7) {
		t.Errorf("got %.7f", got)
	}
}

package spectrum

import (
	"math"
	"testing"
)

// The primaries of sRGB in CIELAB under D50 after Bradford, as Lindbloom's
// published D50 matrix of sRGB gives them (rounded to a tenth).
func TestSRGBLab(t *testing.T) {
	for _, c := range []struct {
		rgb  [3]float64
		want Lab
	}{
		{[3]float64{1, 1, 1}, Lab{100, 0, 0}},
		{[3]float64{1, 0, 0}, Lab{54.29, 80.81, 69.89}},
		{[3]float64{0, 1, 0}, Lab{87.82, -79.29, 80.99}},
		{[3]float64{0, 0, 1}, Lab{29.57, 68.30, -112.03}},
	} {
		got := SRGBLab(c.rgb)
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 0.15 {
				t.Errorf("%v: %.2f, want %.2f", c.rgb, got, c.want)
				break
			}
		}
	}
}

package spectrum

import (
	"math"
	"testing"
)

// The matrix of Display P3 to XYZ as W3C's CSS Color 4 prints it.
func TestDisplayP3Matrix(t *testing.T) {
	want := [9]float64{
		0.48657094, 0.26566769, 0.19821729,
		0.22897456, 0.69173852, 0.07928691,
		0, 0.04511338, 1.04394437,
	}
	for i, v := range DisplayP3.ToXYZ() {
		if !(math.Abs(v/100-want[i]) < 2e-4) {
			t.Errorf("element %d: %.6f, want %.6f", i, v/100, want[i])
		}
	}
	d50, _ := LightByID("D50")
	for _, v := range Transform(DisplayP3.FromXYZ(d50.White), d50.White) {
		if !(math.Abs(v-1) < 1e-9) {
			t.Errorf("white becomes %v", v)
		}
	}
}

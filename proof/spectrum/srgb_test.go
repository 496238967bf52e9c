package spectrum

import (
	"math"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

func TestWhiteIsWhite(t *testing.T) {
	for _, l := range Lights() {
		for i, v := range LinearSRGB(l.White, l.White) {
			if !(math.Abs(v-1) < 1e-12) {
				t.Errorf("%s channel %d: %v, want 1", l.ID, i, v)
			}
		}
	}
}

// The second opinion is a general-purpose colour library. Its matrix carries
// the rounded white of the standard.
func TestSRGBLibrary(t *testing.T) {
	worst := 0.0
	for r := 0.0; r <= 1; r += 0.1 {
		for g := 0.0; g <= 1; g += 0.1 {
			for b := 0.0; b <= 1; b += 0.1 {
				c := colorful.Color{R: r, G: g, B: b}
				x, y, z := c.Xyz()
				lin := LinearSRGB(XYZ{100 * x, 100 * y, 100 * z}, DisplayWhite)
				for i, want := range []float64{r, g, b} {
					worst = max(worst, math.Abs(EncodeSRGB(lin[i])-want))
				}
			}
		}
	}
	t.Logf("largest error %.2g", worst)
	if !(worst < 1e-3) {
		t.Error("sRGB disagrees with the library")
	}
}

// IEC 61966-2-1:1999, constants from memory.
func TestEncodeSRGB(t *testing.T) {
	worst := 0.0
	for _, c := range [][2]float64{{0, 0}, {1, 1}, {0.0031308, 0.040449936}, {0.5, 0.735356983}} {
		got := EncodeSRGB(c[0])
		worst = max(worst, math.Abs(got-c[1]))
		if !(math.Abs(got-c[1]) < 1e-8) {
			t.Errorf("%g: %.9f, want %.9f", c[0], got, c[1])
		}
	}
	t.Logf("largest error %.2g", worst)
	for v := -0.5; v <= 1.5; v += 1.0 / 1024 {
		if got := EncodeSRGB(DecodeSRGB(v)); !(math.Abs(got-v) < 1e-7) {
			t.Errorf("%g comes back as %g", v, got)
		}
		if EncodeSRGB(-v) != -EncodeSRGB(v) {
			t.Errorf("not odd at %g", v)
		}
	}
}

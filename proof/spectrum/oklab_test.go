package spectrum

import (
	"math"
	"testing"
)

// B. Ottosson, A perceptual color space for image processing (2020), from memory:
// his four pairs of XYZ and OKLab, to three places. CSS Color 4 gives the same but
// for the last place, for it begins from a white of 0.3127 0.3290.
func TestOKLabOfItsAuthor(t *testing.T) {
	worst := 0.0
	for _, c := range [][2][3]float64{
		{{0.950, 1.000, 1.089}, {1.000, 0.000, 0.000}},
		{{1, 0, 0}, {0.450, 1.236, -0.019}},
		{{0, 1, 0}, {0.922, -0.671, 0.263}},
		{{0, 0, 1}, {0.153, -1.415, -0.449}},
	} {
		got := XYZ{100 * c[0][0], 100 * c[0][1], 100 * c[0][2]}.OKLab()
		for i, want := range c[1] {
			worst = max(worst, math.Abs(got[i]-want))
			if !(math.Abs(got[i]-want) < 0.002) {
				t.Errorf("%v becomes %.4f, want %v", c[0], got, c[1])
			}
		}
	}
	t.Logf("largest error %.2g", worst)
}

// CSS Color Module Level 4: red is oklch(62.796% 0.25768 29.234), lime
// oklch(86.644% 0.29483 142.495), blue oklch(45.201% 0.31321 264.052) (from memory).
func TestOKLabOfPrimaries(t *testing.T) {
	m := SRGB.ToXYZ()
	for i, want := range [][3]float64{{0.62796, 0.25768, 29.234}, {0.86644, 0.29483, 142.495}, {0.45201, 0.31321, 264.052}} {
		o := XYZ{m[i], m[3+i], m[6+i]}.OKLab()
		hue := math.Mod(math.Atan2(o[2], o[1])*180/math.Pi+360, 360)
		if math.Abs(o[0]-want[0]) > 1e-4 || math.Abs(math.Hypot(o[1], o[2])-want[1]) > 1e-4 || math.Abs(hue-want[2]) > 0.01 {
			t.Errorf("primary %d: %.5f at %.3f°, want %v", i, o, hue, want)
		}
	}
	for _, x := range []XYZ{{20, 30, 10}, {95, 100, 108}, {-3, 5, 40}, {}} {
		for ch, v := range x.OKLab().XYZ() {
			if math.Abs(v-x[ch]) > 1e-9 {
				t.Errorf("%v comes back as %v", x, x.OKLab().XYZ())
			}
		}
	}
}

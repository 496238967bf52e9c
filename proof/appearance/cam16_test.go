package appearance

import (
	"math"
	"testing"

	"threeply/proof/spectrum"
)

func TestThereAndBack(t *testing.T) {
	d50 := spectrum.XYZ{96.42, 100, 82.51}
	for _, la := range []float64{3, 32, 318} {
		r := Room{d50, la, 20}
		o := r.ready()
		for _, x := range []spectrum.XYZ{d50, {19, 20, 21}, {2, 1, 0.5}, {50, 60, 10}, {10, 5, 60}, {0.01, 0.01, 0.01}} {
			back := o.colour(o.look(x))
			for i := range x {
				if !(math.Abs(back[i]-x[i]) < 1e-9*max(1, x[i])) {
					t.Errorf("L_A %g: %v comes back as %v", la, x, back)
				}
			}
		}
	}
}

func TestWhiteIsWhite(t *testing.T) {
	a, _ := spectrum.LightByID("A")
	got := Lit(a.White, 1e6).Look(a.White)
	if !(math.Abs(got.J-100) < 1e-9 && got.C < 1) {
		t.Errorf("white of a bright lamp is %+v", got)
	}
}

// ISO 3664:2009, P2: 500 lx, under which paper of reflectance 0.88 has the 140
// cd/m² of a display to match it (geometry of a matt surface); P1: 2000 lx. The
// least white of a display, 80 cd/m², is from memory.
func TestLuminance(t *testing.T) {
	worst := math.Abs(Luminance(500, 0.88) - 140)
	t.Logf("largest error %.2g cd/m²", worst)
	if worst > 0.1 {
		t.Errorf("%.2f cd/m², want 140", Luminance(500, 0.88))
	}
	if p1, p2 := Luminance(2000, 0.88), Luminance(500, 0.88); math.Abs(p1-4*p2) > 1e-9 || p2 < 80 {
		t.Errorf("P1 %.1f, P2 %.1f cd/m²", p1, p2)
	}
	if got := Lit(spectrum.XYZ{96.42, 100, 82.51}, 500).Adapting; math.Abs(got-500/math.Pi/5) > 1e-9 {
		t.Errorf("the eye adapts to %.2f cd/m²", got)
	}
}

// Values that general-purpose colour libraries (BSD-3) hold for CIECAM16; the
// second set from memory.
func TestCIECAM16Values(t *testing.T) {
	white := spectrum.XYZ{95.05, 100, 108.88}
	worst := 0.0
	for _, c := range []struct {
		x    spectrum.XYZ
		la   float64
		want Correlates
	}{
		{spectrum.XYZ{19.01, 20, 21.78}, 318.31, Correlates{J: 41.73120791, C: 0.10335574, H: 217.06795977, Q: 195.37170899, M: 0.10743677}},
		{spectrum.XYZ{57.06, 43.06, 31.96}, 31.83, Correlates{J: 65.42828069, C: 49.67956420, H: 17.48659243, Q: 152.06985268, M: 42.62473321}},
	} {
		got := Room{white, c.la, 20}.Look(c.x)
		for _, p := range [][2]float64{{got.J, c.want.J}, {got.C, c.want.C}, {got.H, c.want.H}, {got.Q, c.want.Q}, {got.M, c.want.M}} {
			worst = max(worst, math.Abs(p[0]-p[1]))
			if !(math.Abs(p[0]-p[1]) <= 1e-6) {
				t.Errorf("%v: %+v, want %+v", c.x, got, c.want)
				break
			}
		}
	}
	t.Logf("largest error %.2g", worst)
}

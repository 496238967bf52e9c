package stack

import (
	"math"
	"testing"
)

// Integrals of Fresnel's formulas.
func TestFresnel(t *testing.T) {
	worst := 0.0
	for n, want := range map[float64][3]float64{1.50: {.0400, .0918, .5963}, 1.53: {.0439, .0962, .6139}} {
		for i, got := range []float64{fresnel(1, n, 1), diffuseOutside(n), diffuseInside(n)} {
			worst = max(worst, math.Abs(got-want[i]))
			if !(math.Abs(got-want[i]) < 1e-4) {
				t.Errorf("n %g figure %d: %.5f, want %.4f", n, i, got, want[i])
			}
		}
		direct := hemisphere(func(cos float64) float64 { return fresnel(n, 1, cos) })
		if !(math.Abs(direct-diffuseInside(n)) < 1e-3) {
			t.Errorf("n %g from inside: %v by the integral, %v by reciprocity", n, direct, diffuseInside(n))
		}
	}
	t.Logf("largest error %.2g", worst)
}

// K1 and K2 of the finishes are those of a binder of index 1.5: of light that
// falls in straight, and of perfectly diffuse light from inside.
func TestGlossIsIndexOneAndAHalf(t *testing.T) {
	k1, k2 := fresnel(1, 1.5, 1), diffuseInside(1.5)
	if !(math.Abs(k1-Gloss.Surface.K1) < 0.001 && math.Abs(k2-Gloss.Surface.K2) < 0.005) {
		t.Errorf("index 1.5 has K1 %.4f and K2 %.4f, gloss %+v", k1, k2, Gloss.Surface)
	}
}

func TestSurfaceRoundTrip(t *testing.T) {
	for _, f := range Finishes() {
		for r := 0.0; r <= 1; r += 0.01 {
			if got := f.Surface.Inside(f.Surface.Outside(r)); !(math.Abs(got-r) < 1e-14) {
				t.Errorf("%s: %v comes back as %v", f.ID, r, got)
			}
		}
		if f.Surface.Inside(0) != 0 {
			t.Errorf("%s: darker than the surface light", f.ID)
		}
	}
}

// diffuseOutside is the reflectance of a smooth face of index n > 1 for
// perfectly diffuse light from the air,
//
//	∫ 2 sinθ cosθ r(θ) dθ, θ from 0 to π/2
func diffuseOutside(n float64) float64 {
	return hemisphere(func(cos float64) float64 { return fresnel(1, n, cos) })
}

// diffuseInside is the reflectance of the same face from inside, total
// reflection included: 1 - (1 - diffuseOutside)/n².
func diffuseInside(n float64) float64 { return 1 - (1-diffuseOutside(n))/(n*n) }

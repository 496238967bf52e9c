package stack

import (
	"math"
	"testing"
)

// Derived after F. C. Williams and F. R. Clapper, JOSA 43 (1953) 595, at 45°/0°
// and n 1.53, for a paper that measures 0.90: K·X over 2.303 D.
func TestClearLayerK(t *testing.T) {
	ground := Gloss.Surface.Inside(0.90)
	worst := 0.0
	for _, c := range [][2]float64{{.05, 1.54}, {.1, 1.37}, {.25, 1.17}, {.5, 1.09}, {1, 1.07}} {
		got := clearLayerK(c[0], ground, Gloss.Surface) / (math.Ln10 * c[0])
		worst = max(worst, math.Abs(got-c[1]))
		if !(math.Abs(got-c[1]) <= 0.01) {
			t.Errorf("D %g: %.3f, want %.2f", c[0], got, c[1])
		}
	}
	t.Logf("largest error %.2g", worst)
	if clearLayerK(0, ground, Gloss.Surface) != 0 || clearLayerK(-1, ground, Gloss.Surface) != 0 {
		t.Error("no density, no absorption")
	}
}

// clearLayerK returns the K·X that a clear layer needs in this model for its
// print to be as dark as its own collimated transmission density d ≥ 0 makes
// it at 45°/0°: what to enter where a tissue was measured by transmission, on
// film, and not as a print. ground is the inner reflectance of the paper and
// s the surface that the model works with.
//
// Light crosses a clear layer on straight ways, some of them slanting, and is
// thrown back from inside by the face, more of it the more slanting it goes
// (F. C. Williams and F. R. Clapper, JOSA 43, 1953, 595, with the index of
// gelatine). The two-flux film knows of one mean way only. So the same print
// takes more K·X than 2.303·d, half as much again in the lightest tones.
func clearLayerK(d, ground float64, s Surface) float64 {
	if d <= 0 {
		return 0
	}
	t := math.Pow(10, -d)
	slant := math.Sqrt(1 - 0.5/(gelatine*gelatine)) // cosine in the layer of light that came in at 45°
	back := hemisphere(func(cos float64) float64 { return fresnel(gelatine, 1, cos) * math.Pow(t, 2/cos) })
	print := math.Pow(t, 1+1/slant) * (1 - ground*diffuseInside(gelatine)) / (1 - ground*back)
	// Saunderson's face over Lambert's layer, e^-2KX, solved for it.
	twice := print / (1 - s.K2*ground + print*s.K2*ground)
	return -math.Log(twice) / 2
}

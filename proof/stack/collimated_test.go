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
		got := ClearLayerK(c[0], ground, Gloss.Surface) / (math.Ln10 * c[0])
		worst = max(worst, math.Abs(got-c[1]))
		if !(math.Abs(got-c[1]) <= 0.01) {
			t.Errorf("D %g: %.3f, want %.2f", c[0], got, c[1])
		}
	}
	t.Logf("largest error %.2g", worst)
	if ClearLayerK(0, ground, Gloss.Surface) != 0 || ClearLayerK(-1, ground, Gloss.Surface) != 0 {
		t.Error("no density, no absorption")
	}
}

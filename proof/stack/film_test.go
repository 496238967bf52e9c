package stack

import (
	"math"
	"testing"
)

// Worked from the closed formulas of P. Kubelka, JOSA 38 (1948) 448, and
// P. Kubelka and F. Munk, Z. techn. Physik 12 (1931) 593: R∞ = 1 + K/S -
// √((K/S)² + 2K/S).
func TestFilmValues(t *testing.T) {
	worst := 0.0
	check := func(name string, got, want float64) {
		t.Helper()
		worst = max(worst, math.Abs(got-want))
		if !(math.Abs(got-want) <= 6e-9) {
			t.Errorf("%s: %.9f, want %.8f", name, got, want)
		}
	}
	for _, c := range []struct{ k, s, x, r, t, over float64 }{
		{1, 1, 1, .26014672, .16458872, .28751385},
		{.1, 2, .5, .47986131, .47176066, .76884579},
		{2.302585, .05, 1, .01053155, .09516286, .01783789},
	} {
		r, tr := Film(c.k, c.s, c.x)
		check("R", r, c.r)
		check("T", tr, c.t)
		check("over 0.8", Over(r, tr, 0.8), c.over)
	}
	for _, c := range []struct{ ratio, r float64 }{
		{.01, .86822553}, {.1, .64174243}, {1, 2 - math.Sqrt(3)}, {10, .04554885},
	} {
		r, tr := Film(c.ratio*3, 3, 1e6)
		check("R∞", r, c.r)
		check("T of the thickest", tr, 0)
	}
	t.Logf("largest error %.2g", worst)
}

package tone

import (
	"math"
	"testing"
)

// P. F. Jacobs, Rapid Prototyping & Manufacturing, SME 1992, as quoted
// second-hand: D_p 0.175 mm, E_c 8 mJ/cm², E 30 mJ/cm² cure 0.231 mm, and each
// doubling of E adds D_p ln 2.
func TestWorkingCurve(t *testing.T) {
	w := WorkingCurve{Depth: 0.175, Threshold: 8}
	worst := math.Abs(w.Height(30) - 0.231)
	t.Logf("largest error %.2g mm of a figure of three digits", worst)
	if worst > 0.0005 {
		t.Errorf("%.4f mm, want 0.231", w.Height(30))
	}
	for _, e := range []float64{9, 30, 400} {
		if got := w.Height(2*e) - w.Height(e); math.Abs(got-0.175*math.Ln2) > 1e-12 {
			t.Errorf("doubling %g adds %g mm", e, got)
		}
		if got := w.Stops(w.Height(2*e) - w.Height(e)); math.Abs(got-1) > 1e-12 {
			t.Errorf("doubling %g is %g stops", e, got)
		}
	}
	for _, e := range []float64{0, 3, 8} {
		if got := w.Height(e); got != 0 {
			t.Errorf("%g, at most the threshold, hardens %g mm", e, got)
		}
	}
}

// The full coat lies behind the thinnest place of the negative, nothing behind the
// densest, and the line between is straight.
func TestWorkingCurveOfRange(t *testing.T) {
	const densityRange = 1.3
	w := WorkingCurveOf(densityRange)
	least := w.Threshold
	for i := 0; i <= 10; i++ {
		share := float64(i) / 10
		if got := w.Height(least * math.Pow(10, share*densityRange)); math.Abs(got-share) > 1e-12 {
			t.Errorf("%.1f of the range: height %g", share, got)
		}
	}
	// a tenth of the coat is 0.13 in density, that is 0.43 stop
	if got := w.Stops(0.1); math.Abs(got-0.13/math.Log10(2)) > 1e-12 {
		t.Errorf("a tenth of the coat is %g stops", got)
	}
}

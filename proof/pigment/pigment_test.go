package pigment

import (
	"math"
	"testing"

	"threeply/proof/spectrum"
)

func TestEveryPigmentIsComplete(t *testing.T) {
	if len(Pigments()) != 24 {
		t.Errorf("%d pigments, want 24", len(Pigments()))
	}
	seen := map[string]bool{}
	for _, p := range Pigments() {
		if seen[p.CI] {
			t.Errorf("%s twice", p.CI)
		}
		seen[p.CI] = true
		for what, s := range map[string]string{"name": p.Name, "era": p.Era, "source": p.Source, "status": p.Status, "lightfastness": p.Lightfastness, "hazard": p.Hazard} {
			if s == "" {
				t.Errorf("%s has no %s", p.CI, what)
			}
		}
		if got, ok := PigmentByCI(p.CI); !ok || got.Name != p.Name {
			t.Errorf("%s is not found", p.CI)
		}
	}
}

// Thickness 1 is where the peak between 400 and 700 nm lets a tenth through.
func TestPeaksAreOfUnitDensity(t *testing.T) {
	worst := 0.0
	for _, p := range Pigments() {
		k, s, peak := p.K(), p.S(), 0.0
		for i, v := range k {
			if !(v >= 0 && s[i] >= 0 && v < 10 && s[i] < 2) {
				t.Fatalf("%s at %g nm: K %v, S %v", p.CI, spectrum.Wavelength(i), v, s[i])
			}
			if nm := spectrum.Wavelength(i); nm >= 400 && nm <= 700 {
				peak = max(peak, v)
			}
		}
		worst = max(worst, math.Abs(peak-math.Ln10))
		if !(math.Abs(peak-math.Ln10) < 0.02) {
			t.Errorf("%s peaks at %.4f, want %.4f", p.CI, peak, math.Ln10)
		}
	}
	t.Logf("largest error %.2g", worst)
}

// Where the unwanted absorptions of a palette lie, at 505 nm between the blue
// and the green window: modern about 1.4, historic above 2 (common practice:
// historic sets close the window).
func TestHistoricPalettesCloseTheWindow(t *testing.T) {
	const at = (505 - spectrum.First) / spectrum.Step
	for _, p := range Palettes() {
		sum := 0.0
		for _, pr := range Printers() {
			k, _ := p.Layer(pr).KS()
			sum += k[at]
		}
		t.Logf("%-10s %.2f", p.ID, sum)
		if p.Era == Historic && !(sum > 2) {
			t.Errorf("%s: K at 505 nm sums to %.2f", p.ID, sum)
		}
		if p.ID == "arylide" && !(math.Abs(sum-1.4) < 0.15) {
			t.Errorf("%s: K at 505 nm sums to %.2f", p.ID, sum)
		}
	}
}

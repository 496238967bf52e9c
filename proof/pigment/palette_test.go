package pigment

import (
	"math"
	"testing"
)

func TestPalettesAreWhole(t *testing.T) {
	for _, p := range Palettes() {
		if got, ok := PaletteByID(p.ID); !ok || got.Name != p.Name {
			t.Errorf("%s is not found", p.ID)
		}
		if p.Era != Modern && p.Era != Historic || p.Note() == "" {
			t.Errorf("%s: era %q, note %q", p.ID, p.Era, p.Note())
		}
		if err := p.Check(); err != nil {
			t.Errorf("%s: %v", p.ID, err)
		}
		for _, pr := range Printers() {
			sum := 0.0
			for _, s := range p.Layer(pr).Pigments {
				sum += s.Share
				if _, ok := PigmentByCI(s.CI); !ok {
					t.Errorf("%s %s: no pigment %s", p.ID, pr, s.CI)
				}
			}
			if !(math.Abs(sum-1) < 1e-12) {
				t.Errorf("%s %s: shares sum to %v", p.ID, pr, sum)
			}
		}
	}
	if _, ok := PaletteByID("none"); ok || (Palette{ID: "own"}).Note() != "" {
		t.Error("a palette that is not there was found")
	}
}

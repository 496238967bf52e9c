package pigment

import (
	"math"
	"strings"
	"testing"
)

// S. Michalski 1990, as quoted second-hand: without UV, blue wool 1 fades
// noticeably at 0.4 Mlx·h and blue wool 8 at 900.
func TestFadingDose(t *testing.T) {
	worst := 0.0
	for class, want := range map[float64]float64{1: 0.4, 8: 900} {
		off := math.Abs(FadingDose(class)/want - 1)
		if worst = max(worst, off); off > 1e-9 {
			t.Errorf("class %g: %g Mlx·h, want %g", class, FadingDose(class), want)
		}
	}
	t.Logf("largest relative error %.2g", worst)
	for class := 1.0; class < 8; class++ {
		if ratio := FadingDose(class+1) / FadingDose(class); math.Abs(ratio-3) > 0.05 {
			t.Errorf("class %g stands %.2f times class %g", class+1, ratio, class)
		}
	}
}

func TestYearsOnShow(t *testing.T) {
	// 50 lx, 8 h a day: 0.146 Mlx·h a year
	least, most, ok := BlueWool{1, 2}.Years(50, 8)
	if !ok || math.Abs(least-0.4/0.146) > 1e-9 || !(most > 2.9*least && most < 3.1*least) {
		t.Errorf("blue wool 1–2: %g to %g years, %v", least, most, ok)
	}
	if bright, _, _ := (BlueWool{1, 2}).Years(500, 8); math.Abs(bright-least/10) > 1e-12 {
		t.Errorf("in ten times the light %g years, want a tenth of %g", bright, least)
	}
	for name, nothing := range map[string]func() (float64, float64, bool){
		"no class": func() (float64, float64, bool) { return BlueWool{}.Years(50, 8) },
		"no light": func() (float64, float64, bool) { return BlueWool{1, 2}.Years(0, 8) },
	} {
		if _, _, ok := nothing(); ok {
			t.Errorf("%s: years are given", name)
		}
	}
}

// What is said of a pigment and what is counted with are one.
func TestBlueWoolIsAsSaid(t *testing.T) {
	known := 0
	for _, p := range Pigments() {
		said := strings.Contains(p.Lightfastness, "blue wool")
		if said != (p.BlueWool != BlueWool{}) {
			t.Errorf("%s: %q, but %v", p.CI, p.Lightfastness, p.BlueWool)
		}
		if !said {
			continue
		}
		known++
		if b := p.BlueWool; !(b.Least >= 1 && b.Least <= b.Most && b.Most <= 8) {
			t.Errorf("%s: %v is no range of classes", p.CI, b)
		}
	}
	if known == 0 {
		t.Error("no pigment has a class")
	}
}

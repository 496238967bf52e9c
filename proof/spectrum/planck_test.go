package spectrum

import (
	"math"
	"testing"
)

// Illuminant A is a Planckian radiator of 2848 K with the old c₂ of
// 1.4350e-2 m·K, which is 2855.5 K today (ISO/CIE 11664-2).
func TestBlackbodyIsIlluminantA(t *testing.T) {
	l := Blackbody(2848 * 1.4388 / 1.4350)
	worst := 0.0
	for i, v := range l.Power {
		worst = max(worst, math.Abs(v/powerA[i]-1))
	}
	t.Logf("largest relative difference %.2g", worst)
	if !(worst < 1e-4) {
		t.Errorf("off by %v", worst)
	}
}

func TestLightsByTemperature(t *testing.T) {
	l, ok := LightByID("3200K")
	if !ok || l.ID != "3200K" {
		t.Fatalf("3200K: %v %q", ok, l.ID)
	}
	for _, bad := range []string{"", "K", "0K", "1499K", "12001K", "-3000K", "3e3K", "3000k", "warm"} {
		if _, ok := LightByID(bad); ok {
			t.Errorf("%q passes for a light", bad)
		}
	}
}

// Chromaticities of CIE 015:2018 table 12.3, from memory; D50, D65 and A as
// everywhere.
func TestChromaticities(t *testing.T) {
	worst := 0.0
	for id, want := range map[string][2]float64{
		"D50": {.3457, .3585}, "D65": {.3127, .3290}, "A": {.4476, .4074},
		"LED-B1": {.4560, .4078}, "LED-B3": {.3756, .3723},
	} {
		l, ok := LightByID(id)
		if !ok {
			t.Fatalf("no light %s", id)
		}
		sum := l.White[0] + l.White[1] + l.White[2]
		x, y := l.White[0]/sum, l.White[1]/sum
		worst = max(worst, math.Abs(x-want[0]), math.Abs(y-want[1]))
		if !(math.Abs(x-want[0]) < 3e-4 && math.Abs(y-want[1]) < 3e-4) {
			t.Errorf("%s: %.4f %.4f, want %v", id, x, y, want)
		}
	}
	t.Logf("largest error %.2g", worst)
}

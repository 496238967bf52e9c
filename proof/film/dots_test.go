package film

import (
	"math"
	"strings"
	"testing"
)

// The film's tint for an area prints that area, by a gain and by a table; a half that gains
// 0.15 prints 0.65, and a table is met at its tints.
func TestGrowthIsUndone(t *testing.T) {
	measured, err := ReadTints("film print\n5 9\n25 38\n50 66\n75 86\n95 98.5\n")
	if err != nil {
		t.Fatal(err)
	}
	for name, g := range map[string]Growth{"none": {}, "a little": {Gain: 0.05}, "much": {Gain: 0.25}, "a table": {Gain: 0.1, Dots: Dots{Table: measured}}} {
		if err := g.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		before := -1.0
		for i := range 101 {
			a := float64(i) / 100
			if got := g.Print(g.Film(a)); math.Abs(got-a) > 1e-9 {
				t.Errorf("%s: an area of %.2f comes back as %.4f", name, a, got)
			}
			if tint := g.Film(a); !(tint > before && tint >= 0 && tint <= 1) {
				t.Errorf("%s: %.4f after %.4f", name, tint, before)
			} else {
				before = tint
			}
		}
	}
	if got := (Growth{Gain: 0.15}).Print(0.5); math.Abs(got-0.65) > 1e-12 {
		t.Errorf("a half prints %.3f, want 0.65", got)
	}
	for _, c := range [][2]float64{{0, 0}, {0.05, 0.09}, {0.5, 0.66}, {0.95, 0.985}, {1, 1}, {0.625, 0.76}} {
		if got := (Growth{Dots: Dots{Table: measured}}).Print(c[0]); math.Abs(got-c[1]) > 1e-12 {
			t.Errorf("a tint of %g prints %g, measured %g", c[0], got, c[1])
		}
	}
}

// No tint is asked of the film that does not hold on the tissue or fills in.
func TestTintsThatHold(t *testing.T) {
	g := Growth{Dots: Dots{Least: 0.04, Most: 0.94}}
	for wanted, want := range map[float64]float64{0: 0, 0.019: 0, 0.021: 0.04, 0.04: 0.04, 0.3: 0.3, 0.94: 0.94, 0.96: 0.94, 0.98: 1, 1: 1} {
		if got := g.Film(wanted); got != want {
			t.Errorf("%g is drawn as %g, want %g", wanted, got, want)
		}
	}
}

func TestReadTintsRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"10 20\n50 60":                "2 tints",
		"10 20\n50 160\n90 95":        "line 2: “160”",
		"10 20\n50 15\n90 95":         "line 2: 50 % of the film prints 15 %",
		"0 3\n50 60\n90 95":           "line 1: 0 % of the film prints 3 %",
		"10 20\n10 21\n90 95":         "line 2: the tint of 10 %",
		"10 20\n50 60\n90 100":        "line 3: 90 %",
		"10 20 3\n50 60\n90 95":       "line 1:",
		"10 20\n50 60\n90 95\n100 97": "line 4: 100 %",
	} {
		if _, err := ReadTints(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

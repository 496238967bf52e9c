package balance

import (
	"math"
	"testing"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Recipes that nobody should print must still end, with figures that are
// figures.
func TestOddRecipes(t *testing.T) {
	one := func(ci string, load float64) pigment.Tissue {
		s := pigment.NewTissue(pigment.Share{CI: ci, Share: 1})
		s.Load = load
		return s
	}
	grey, err := stack.PaperFromLab("grey", "Grey", spectrum.Lab{30, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	black := stack.Paper{ID: "black", R: flat(0)}
	for name, r := range map[string]stack.Recipe{
		"three yellows": {Palette: pigment.Palette{Yellow: one("PY3", 1), Magenta: one("PY74", 1), Cyan: one("PY83", 1)}},
		"one pigment":   {Palette: pigment.Palette{Yellow: one("PY3", 1), Magenta: one("PY3", 1), Cyan: one("PY3", 1)}},
		"three blacks":  {Palette: pigment.Palette{Yellow: one("PBk7", 1), Magenta: one("PBk9", 1), Cyan: one("PBk7", 1)}},
		"no pigment":    {},
		"unknown":       {Palette: pigment.Palette{Yellow: one("none", 1), Magenta: one("", 1), Cyan: one("PB27", 1)}},
		"heavy":         {Palette: pigment.Palette{Yellow: one("PY34", 10), Magenta: one("PR83", 10), Cyan: one("PB27", 10)}},
		"faint":         {Palette: pigment.Palette{Yellow: one("PY34", .05), Magenta: one("PR83", .05), Cyan: one("PB27", .05)}},
		"grey paper":    {Palette: pigment.Palettes()[0], Paper: grey},
		"black paper":   {Palette: pigment.Palettes()[3], Paper: black},
	} {
		if r.Paper.ID == "" {
			r.Paper = stack.Papers()[0]
		}
		r.Order, r.Surface = stack.DefaultOrder, stack.Satin.Surface
		s := Neutral(r, d50(), DefaultLimit)
		worst := 0.0
		for i, x := range s.T {
			worst = max(worst, s.Residual[i])
			for j, v := range x {
				if !(v >= 0 && v <= DefaultLimit) || math.IsNaN(s.L[i]+s.Residual[i]) || i > 0 && v < s.T[i-1][j] {
					t.Fatalf("%s tone %d: %v L* %v residual %v", name, i, x, s.L[i], s.Residual[i])
				}
			}
		}
		c := cube.New(r, d50(), 9)
		x, dE := Near(c, spectrum.Lab{40, 20, -10}, math.Inf(1))
		if math.IsNaN(x[0]+x[1]+x[2]+dE) || max(x[0], x[1], x[2]) > cube.Max {
			t.Errorf("%s: %v %v", name, x, dE)
		}
		t.Logf("%s: paper %.1f depth %.1f at %.2f, residual %.2f; nearest %.2f ΔE00 %.1f", name, s.Paper, s.Depth.Lab, s.Depth.Thickness, worst, x, dE)
	}
}

package neutral

import (
	"math"
	"path/filepath"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/overlay"
	"threeply/proof/plate/platetest"
)

func TestFindProposesTheScaleThatIsThere(t *testing.T) {
	for _, c := range []card{
		{n: 10, step: 0.12, cx: 300, cy: 360, wide: 40, high: 44, turn: 0, falloff: 0.08},
		{n: 12, step: 0.12, cx: 300, cy: 220, wide: 26, high: 34, turn: 31, falloff: 0.05},
		{n: 7, step: 0.15, cx: 500, cy: 200, wide: 30, high: 30, turn: 92},
	} {
		p := photographed(c, 600, 430, unequal, 11)
		s, ok := Find(p)
		if !ok {
			t.Errorf("%+v: nothing is proposed", c)
			continue
		}
		t.Logf("%d of %d steps", len(s.Steps), c.n)
		if len(s.Steps) < c.n-1 || len(s.Steps) > c.n {
			t.Errorf("%+v: %d steps", c, len(s.Steps))
		}
		for _, g := range s.Steps {
			near := math.Inf(1)
			for i := range c.n {
				x, y := c.place(i)
				near = min(near, math.Hypot(g.X-x, g.Y-y))
			}
			if near > 0.45*c.wide {
				t.Errorf("%+v: a step %.0f pixels from any", c, near)
			}
		}
	}
}

func TestFindProposesNothingInACloth(t *testing.T) {
	p := photographed(card{n: 0, wide: 1, high: 0, cx: -1e4}, 600, 430, unequal, 2)
	if s, ok := Find(p); ok {
		t.Errorf("%d steps from %.0f,%.0f", len(s.Steps), s.X0, s.Y0)
	}
}

// shared holds real plates on some machines; tests that read it skip where it is
// missing.
const shared = "../../../shared"

// No grey scale was photographed with the plates of c. 1905 to 1915 (Library of
// Congress, Prints & Photographs Division, Prokudin-Gorskii Collection): houses,
// stairs, fences and water must not be taken for one.
func TestFindProposesNothingInRealPlates(t *testing.T) {
	folder := filepath.Join(shared, "plates")
	sets := 0
	for _, real := range platetest.Sure(platetest.Sets(t, folder)) {
		set := real.Open(t, folder)
		p := &overlay.Plates{Key: 1, Ways: [3]overlay.Way{real.Known[filter.Red].Map.Apply, affine.Identity.Apply, real.Known[filter.Blue].Map.Apply}}
		for _, f := range filter.All {
			source, density := set.Plate(f)
			p.Planes[f], p.Areas[f] = density, source.Area
		}
		sets++
		if s, ok := Find(p); ok {
			t.Errorf("%s: %d steps from %.0f,%.0f to %.0f,%.0f", real.File, len(s.Steps), s.X0, s.Y0, s.X1, s.Y1)
		}
	}
	t.Logf("%d sets", sets)
}

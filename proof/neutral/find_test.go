package neutral

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/overlay"
	"threeply/proof/plate"
	"threeply/proof/scan"
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
	f, err := os.Open(filepath.Join(shared, "plates/registration.csv"))
	if err != nil {
		t.Skipf("the shared plates are not on this machine, nothing is tested here: %v", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	maps := map[string][3]overlay.Way{}
	for _, r := range rows[1:] {
		if r[11] == "UNVERIFIED" || r[0] == "melons_unaligned_bgr.jpg" {
			continue
		}
		var m affine.Matrix
		for i := range m {
			if m[i], err = strconv.ParseFloat(r[2+i], 64); err != nil {
				t.Fatal(err)
			}
		}
		set := maps[r[0]]
		set[map[string]int{"red": 0, "blue": 2}[r[1]]] = m.Apply
		maps[r[0]] = set
	}
	sets := 0
	for name, ways := range maps {
		if ways[0] == nil || ways[2] == nil {
			continue
		}
		ways[1] = overlay.Direct
		data, err := os.ReadFile(filepath.Join(shared, "plates", name))
		if err != nil {
			t.Fatal(err)
		}
		set, err := plate.Open([]plate.File{{Name: name, Data: scan.Bytes(data)}}, plate.Options{Layout: plate.Tall}, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := &overlay.Plates{Key: 1, Ways: ways}
		for _, f := range filter.All {
			source, density := set.Plate(f)
			p.Planes[f], p.Areas[f] = density, source.Area
		}
		sets++
		if s, ok := Find(p); ok {
			t.Errorf("%s: %d steps from %.0f,%.0f to %.0f,%.0f", name, len(s.Steps), s.X0, s.Y0, s.X1, s.Y1)
		}
	}
	t.Logf("%d sets", sets)
}

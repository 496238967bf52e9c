package neutral

import (
	"math"
	"strings"
	"testing"
)

func TestReadTakesTheLargestEvenDisc(t *testing.T) {
	c := card{n: 10, step: 0.12, cx: 250, cy: 150, wide: 40, high: 60}
	p := photographed(c, 500, 300, unequal, 21)
	x, y := c.place(4)
	g, err := Read(p, x, y)
	if err != nil {
		t.Fatal(err)
	}
	if g.Uneven || g.Radius < 3.5 || g.Radius > 20 {
		t.Errorf("a disc of %.1f pixels, uneven: %v", g.Radius, g.Uneven)
	}
	for k, e := range unequal {
		want := e.density(c.at(x, y))
		if off := math.Abs(g.Density[k] - want); off > 4*g.Error[k]+1e-3 || g.Error[k] > 0.005 || g.Error[k] == 0 {
			t.Errorf("plate %d: %.4f ± %.4f, want %.4f", k, g.Density[k], g.Error[k], want)
		}
	}
	if g, err = Read(p, x+20, y); err != nil || !g.Uneven {
		t.Errorf("on the edge between two steps: %+v (%v)", g, err)
	}
}

func TestReadRefusesWhatNoPlateHolds(t *testing.T) {
	p := photographed(card{n: 3, wide: 20, high: 20}, 200, 100, unequal, 4)
	for at, says := range map[[2]float64]string{{250, 20}: "off the picture of 200 × 100", {-1, 20}: "off the picture", {198, 50}: "red plate", {2, 50}: "blue plate", {math.NaN(), 5}: "off the picture"} {
		if _, err := Read(p, at[0], at[1]); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("at %v: %v", at, err)
		}
	}
}

package register

import (
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/linear"
	"threeply/proof/survey"
)

// A lost part is of cells that lie side by side: the largest such part, and none of fewer
// than three cells, nor over the edge of a row.
func TestLost(t *testing.T) {
	m := survey.New([4]int{0, 0, 600, 400}, 24)
	for cells, want := range map[string][]int{
		"mmmmmmmmmmmmmmmmmmmmmmmm": nil,
		"uummmmmmmmmmmmuummmmmmmm": nil,
		"mmmmuuummmmmmmmmmmmmmmmm": nil, // from the end of a row to the beginning of the next
		"uuummmmmmmmmmmmmmmmuummm": {0, 1, 2},
		"uuummmmmmmmmmmumuummuuum": {14, 16, 17, 20, 21, 22},
		"muuummmuuummmmmmmmmmmmmm": {1, 2, 3, 7, 8, 9},
	} {
		m.Cells = cells
		got := Lost(&m)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", cells, got, want)
		}
	}
}

// TestAMovedQuarterTiltsNoMap has patches of a plate lie off a map that all of them had a say in: of
// one of which a quarter moved by so little that no patch stands out, those of the rest are found to
// agree, and of one that bends as far they are not.
func TestAMovedQuarterTiltsNoMap(t *testing.T) {
	const side, n = 512.0, 8
	for what, c := range map[string]struct {
		off func(u, v float64) (dx, dy float64) // by the place, 0..1, pixels
		ok  bool
	}{
		"a quarter moved": {func(u, v float64) (dx, dy float64) {
			if u < 0.5 && v < 0.5 {
				return -3, -2
			}
			return 0, 0
		}, true},
		"it bends": {func(u, v float64) (dx, dy float64) { return -6 * u * u * v, 4 * u * v * v }, false},
	} {
		rnd := rand.New(rand.NewPCG(3, 2))
		var places []measured
		for i := range n * n {
			u, v := (float64(i%n)+0.5)/n, (float64(i/n)+0.5)/n
			dx, dy := c.off(u, v)
			places = append(places, measured{
				x: side * u, y: side * v, dx: dx + 0.1*rnd.NormFloat64(), dy: dy + 0.1*rnd.NormFloat64(),
				precision: linear.Symmetric{XX: 50, YY: 50}, score: 0.9, unique: 1, settled: true,
			})
		}
		all, ok := solve(places, nil)
		if !ok {
			t.Fatal("no map")
		}
		p, g := &pair{}, &matcher{patchSet: &patchSet{}}
		tilted, ok := p.moved(candidate{m: affine.Identity, patches: places}, all, g.patchSet)
		if !ok || inTwo(tilted.patches, nearby) {
			t.Fatalf("%s: nothing is asked", what)
		}
		two, ok := p.asTwo(tilted, g, nearby)
		if ok != c.ok {
			t.Errorf("%s: in two %v, want %v", what, ok, c.ok)
		}
		if rms, _ := errorsOf(two.m, affine.Identity, side, side); c.ok && rms > 0.1 {
			t.Errorf("%s: what did not move lies %.2f px off", what, rms)
		}
	}
}

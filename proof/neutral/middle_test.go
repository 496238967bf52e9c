package neutral

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The median is that of the sorted values, of an even number the mean of the middle two.
func TestMedianAgainstSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(-5, 5), 1, 60).Draw(t, "v")
		sorted, n := slices.Sorted(slices.Values(v)), len(v)
		if got := medianOf(v); got != (sorted[(n-1)/2]+sorted[n/2])/2 {
			t.Fatalf("the median: %g of %v", got, sorted)
		}
	})
}

// Eighths are those of the angle.
func TestEighthsAgainstAngles(t *testing.T) {
	for dy := -40; dy <= 40; dy++ {
		for dx := -40; dx <= 40; dx++ {
			want := min(int((math.Atan2(float64(dy), float64(dx))/math.Pi+1)*4), 7)
			if got := eighthOf(dx, dy); got != want && (dx != 0 || dy != 0) {
				t.Errorf("(%d, %d): eighth %d, want %d", dx, dy, got, want)
			}
		}
	}
}

// A disc that is called even holds what its pixels, gathered and sorted the plain way, say.
func TestDiscAgainstItsPixels(t *testing.T) {
	c := card{step: 0.15, cx: 350, cy: 100, n: 8, wide: 60, high: 50}
	p := photographed(c, 700, 200, unequal, 4)
	rnd := rand.New(rand.NewPCG(3, 5))
	even := 0
	for range 300 {
		r := 1.5 + 18*rnd.Float64()
		x, y := c.place(rnd.IntN(c.n))
		x, y = x+8*rnd.Float64()-4, y+8*rnd.Float64()-4
		g := disc(p, x, y, r)
		if g.Uneven {
			continue
		}
		even++
		for i := range 3 {
			var all []float64
			for dy := -20.0; dy <= 20; dy++ {
				for dx := -20.0; dx <= 20; dx++ {
					if d, ok := p.Density(i, x+dx, y+dy); ok && math.Hypot(dx, dy) <= r {
						all = append(all, d)
					}
				}
			}
			slices.Sort(all)
			n := len(all)
			if n == 0 {
				continue
			}
			if want := (all[(n-1)/2] + all[n/2]) / 2; g.Density[i] != want {
				t.Errorf("plate %d at %.1f,%.1f within %.1f: %g, want %g", i, x, y, r, g.Density[i], want)
			}
		}
	}
	if even < 50 {
		t.Errorf("only %d of 300 discs are even", even)
	}
}

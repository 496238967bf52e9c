package balance

import (
	"math"
	"testing"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/stack"
)

// The slow, obvious way: of all amounts on a fine grid that print neutral the
// darkest. Nothing there may be deeper than the depth.
func TestDepthIsTheDeepestNeutral(t *testing.T) {
	const n = 48
	for _, p := range pigment.Palettes() {
		for _, o := range []string{"ymc", "mcy", "cym"} {
			for _, limit := range []float64{DefaultLimit, 1} {
				r := stack.DefaultRecipe(p)
				r.Order, _ = stack.ParseOrder(o)
				depth := Neutral(r, d50(), limit).Depth.Lab
				c := cube.New(r, d50(), 33)
				darkest := math.Inf(1)
				for i := range n * n * n {
					at := func(k int) float64 { return limit * float64(k%n+1) / n }
					if l := c.At([3]float64{at(i), at(i / n), at(i / n / n)}); math.Hypot(l[1], l[2]) < 0.4 {
						darkest = min(darkest, l[0])
					}
				}
				if !(depth[0] <= darkest+0.3) { // what a chroma of 0.4 is worth
					t.Errorf("%s %s up to %.1f: depth L* %.2f, the grid has %.2f", p.ID, o, limit, depth[0], darkest)
				}
				if math.Hypot(depth[1], depth[2]) > 0.01 {
					t.Errorf("%s %s: the depth is %.3f, no neutral", p.ID, o, depth)
				}
			}
		}
	}
}

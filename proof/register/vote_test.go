package register

import (
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/linear"
)

// scattered are patches of which a share lies where the map (nothing moved) puts it,
// to within 0.3 pixel, and the others anywhere in the search.
func scattered(rnd *rand.Rand, n int, share float64) []measured {
	const reach = 8
	out := make([]measured, n)
	for i := range out {
		m := measured{
			x: 700 * rnd.Float64(), y: 500 * rnd.Float64(), score: 0.5 + 0.4*rnd.Float64(), unique: 0.5, sharp: 1,
			precision: linear.Symmetric{XX: 1, YY: 1}, settled: true,
		}
		if float64(i) < share*float64(n) {
			m.dx, m.dy = 0.3*rnd.NormFloat64(), 0.3*rnd.NormFloat64()
		} else {
			m.dx, m.dy = reach*(2*rnd.Float64()-1), reach*(2*rnd.Float64()-1)
		}
		out[i] = m
	}
	return out
}

// votesFor fits a map to patches as a search does, and counts who agrees.
func votesFor(patches []measured) vote {
	p := &pair{keyPlate: &keyPlate{}}
	c := p.fit(candidate{m: affine.Identity}, patches, &patchSet{}, nearby, stiffAtFirst)
	return countVotes(c.patches, nearby, len(patches))
}

// Patches that lie anywhere at all find no map that counts as found, although each map
// is fitted to them; and where two thirds agree, the map counts as surely found.
func TestChanceIsNoConfidence(t *testing.T) {
	rnd := rand.New(rand.NewPCG(17, 4))
	for _, n := range []int{firstPatches, nextPatches, lastPatches} {
		highest, lowest, most := 0.0, 1.0, 0.0
		for range 60 {
			v := votesFor(scattered(rnd, n, 0))
			highest, most = max(highest, v.confidence), max(most, v.share)
			lowest = min(lowest, votesFor(scattered(rnd, n, 0.67)).confidence)
		}
		t.Logf("%d patches: by chance at most %.0f %% agree, confidence %.2f; with two thirds at least %.2f", n, 100*most, highest, lowest)
		if highest >= FoundFrom || lowest < reached {
			t.Errorf("%d patches: confidence %.2f by chance, %.2f with two thirds", n, highest, lowest)
		}
	}
}

// Patches that agree in one corner alone fix no map for the others.
func TestACornerFixesNoMap(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 9))
	patches := scattered(rnd, nextPatches, 0.5)
	for i := range patches[:50] {
		patches[i].x, patches[i].y = 20*rnd.Float64(), 20*rnd.Float64()
	}
	if v := countVotes(patches, nearby, len(patches)); v.confidence >= FoundFrom {
		t.Errorf("confidence %.2f, spread %.2f px", v.confidence, v.spread)
	}
}

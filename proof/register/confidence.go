package register

import (
	"math"
	"threeply/proof/linear"
	"threeply/proof/warp"
)

// verdict is what the patches say of a map.
type verdict struct {
	agree      int     // patches within the tolerance
	share      float64 // of those measured that agree
	confidence float64 // 0..1
	spread     float64 // standard error of the map at the farthest patch, pixels
	repeats    bool    // another map has about as many patches behind it
}

// judge counts the patches that lie where the map says. Each was searched on its
// own over many times the tolerance's area, so under a wrong map only one in
// ten or so falls there by chance, and four more because the map went after
// them.
func judge(patches []found, tol float64, asked int) verdict {
	if len(patches) < 3 {
		return verdict{}
	}
	var v verdict
	var agree, all float64
	for _, p := range patches {
		w := math.Sqrt(p.sharp)
		all += w
		if p.settled && math.Hypot(p.dx, p.dy) <= tol {
			agree += w
			v.agree++
		}
	}
	v.share = agree / all
	seen := min(1, 2*float64(len(patches))/float64(asked))
	chance := 0.12 + 4/float64(len(patches))
	v.spread = spread(patches, tol)
	v.confidence = ramp(1.5-v.spread, 0, 1) * ramp(v.share, chance, chance+0.35) * ramp(float64(v.agree), 3, 12) * seen
	return v
}

// held is v after all places were measured at full size: it is no surer than the
// share of them that agree, nor sure at all where one place in twenty lies further
// than three pixels off.
func (v verdict) held(outvoted float64, left warp.Residual) verdict {
	v.confidence *= 1 - outvoted
	if left.P95 > 3 {
		v.confidence = min(v.confidence, 0.85)
	}
	return v
}

func (v verdict) outcome() Outcome {
	switch {
	case v.confidence >= FoundFrom:
		return Found
	case v.repeats:
		return Repeats
	}
	return Disagrees
}

// spread is the standard error that an unweighted affine fit to the patches
// that agree has at the place of any patch, agreeing or not: large where all
// that agree lie in one corner.
func spread(patches []found, tol float64) float64 {
	var n, cx, cy, square float64
	agree := func(p found) bool { return p.settled && math.Hypot(p.dx, p.dy) <= tol }
	for _, p := range patches {
		if agree(p) {
			n++
			cx += p.x
			cy += p.y
			square += p.dx*p.dx + p.dy*p.dy
		}
	}
	if n < 4 {
		return math.Inf(1)
	}
	cx, cy = cx/n, cy/n
	var moments linear.Symmetric
	for _, p := range patches {
		if agree(p) {
			moments.Add(1, p.x-cx, p.y-cy)
		}
	}
	if moments.Det() <= 1e-6*moments.XX*moments.YY {
		return math.Inf(1)
	}
	var most float64
	for _, p := range patches {
		most = max(most, 1/n+moments.Form(p.x-cx, p.y-cy))
	}
	return math.Sqrt(most * square / (n - 3))
}

// ramp rises from 0 at lo to 1 at hi.
func ramp(x, lo, hi float64) float64 { return min(max((x-lo)/(hi-lo), 0), 1) }

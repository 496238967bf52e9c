package register

import (
	"math"
)

// verdict is what the patches say of a map.
type verdict struct {
	agree      int     // patches within the tolerance
	share      float64 // of those measured that agree
	confidence float64 // 0..1
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
	v.confidence = ramp(v.share, chance, chance+0.35) * ramp(float64(v.agree), 3, 12) * seen
	return v
}

// ramp rises from 0 at lo to 1 at hi.
func ramp(x, lo, hi float64) float64 { return min(max((x-lo)/(hi-lo), 0), 1) }

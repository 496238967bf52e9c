package register

import (
	"math"

	"threeply/proof/linear"
	"threeply/proof/survey"
)

// vote is what the patches say of a map.
type vote struct {
	agree      int     // patches that agree with the map
	share      float64 // of those measured that agree, each counted by its sharpness
	confidence float64 // 0..1
	spread     float64 // standard error of the map at the farthest patch, pixels
	repeats    bool    // another map has about as many patches behind it
}

// What a vote is worth. A patch is searched for over forty times the area in which it
// agrees, but under a wrong map more than that share agrees: the fit goes after as many
// as it can get, and four go through nearly any map. The test of chance holds both.
const (
	byChance    = 0.12 // share of patches that agree with a wrong map
	afterTheFit = 4    // and how many do because it was fitted to them
	aboveChance = 0.35 // by what share above chance a map is sure
	fewAgree    = 3    // how many patches are not enough, whatever their share
	manyAgree   = 12   // how many are
	spreadMost  = 1.5  // standard error, in pixels, at which a map is worth nothing; below a third of it, it is sure
	spreadSure  = 0.5
)

// countVotes counts the patches that lie within tol of where the map puts them.
// asked is how many were looked for: those that lay off the other plate are missing.
func countVotes(patches []measured, tol float64, asked int) vote {
	if len(patches) < 3 {
		return vote{}
	}
	var v vote
	var agree, all float64
	for _, p := range patches {
		w := math.Sqrt(p.sharp)
		all += w
		if p.agrees(tol) {
			agree += w
			v.agree++
		}
	}
	v.share = agree / all
	v.spread = spread(patches, tol)
	half := float64(asked) / 2 // of the patches may lie off the other plate
	chance := byChance + afterTheFit/float64(len(patches))
	v.confidence = (1 - ramp(v.spread, spreadSure, spreadMost)) *
		ramp(v.share, chance, chance+aboveChance) *
		ramp(float64(v.agree), fewAgree, manyAgree) *
		min(1, float64(len(patches))/half)
	return v
}

// afterAllPlaces lowers a vote's confidence by what was measured of each part of the
// picture: by the share that lies elsewhere, and to no more than the corners justify.
func (v vote) afterAllPlaces(s *survey.Map) vote {
	v.confidence = min(v.confidence*(1-s.Outvoted()), sureOfCorners(s))
	return v
}

// sureOfCorners is the most that a map can be trusted by how far it lies off, or may lie
// off, in the corners: beyond a pixel and a half it is not above 0.9, beyond 8 not above
// SureFrom of package verdict.
func sureOfCorners(s *survey.Map) float64 {
	most := 1.0
	for _, i := range s.Corners() {
		if s.Cells[i] == survey.Elsewhere {
			continue // counted by its share
		}
		off := math.Hypot(math.Hypot(s.DX[i], s.DY[i]), s.Within[i])
		most = min(most, 1-0.1*ramp(off, 0.75, 1.5)-0.3*ramp(off, 1.5, 8)-0.35*ramp(off, 8, 40))
	}
	return most
}

func (v vote) outcome() Outcome {
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
func spread(patches []measured, tol float64) float64 {
	var n, cx, cy, square float64
	for _, p := range patches {
		if p.agrees(tol) {
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
		if p.agrees(tol) {
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

package register

import (
	"fmt"
	"math"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// Proposal is the plate that would make the best key.
type Proposal struct {
	Key   int    // index of the plate
	Why   string // one sentence
	Score [3]float64
}

const (
	comparedPlaces = 60  // places of each pair of plates
	comparedWithin = 3   // pixels from where the maps put a place, beyond which it counts for nothing
	comparedFrom   = 0.5 // confidence of both plates, without which there is nothing to compare
	betterKey      = 1.1 // times as alike, to the third plate, as the present key: less is not worth registering again
)

// Propose tells which of three plates that Planes registered would make the best key. It compares
// the plates at full size, two by two, at sixty places rich in detail: how alike their
// edges are, and how near they lie to where the maps put them, 0..1. Blur, grain,
// damage and warp all make a plate less like the other two, so the plate with the
// highest mean is the best key. The present key is kept unless the third plate is more
// like the other by a tenth: what the two have in common says nothing of which is better.
// names are those of the plates, for the sentence. Of what was found it takes the matrices, the
// confidences and the twins.
func Propose(planes [3]*plane.Plane, opt Options, found [3]Plate, names [3]string) Proposal {
	out := Proposal{Key: opt.Key, Why: fmt.Sprintf("No other plate would make a clearly better key than the %s one.", names[opt.Key])}
	for i := range found {
		if found[i].Twin {
			out.Why = fmt.Sprintf("The %s plate stays the key: two of the plates are the same scan.", names[opt.Key])
			return out
		}
	}
	for i, p := range found {
		switch {
		case i == opt.Key || p.Confidence >= comparedFrom:
		case p.Confidence < FoundFrom:
			out.Why = fmt.Sprintf("The %s plate stays the key: the %s plate was not found.", names[opt.Key], names[i])
			return out
		default:
			out.Why = fmt.Sprintf("The %s plate stays the key: the %s plate is not in register with it.", names[opt.Key], names[i])
			return out
		}
	}
	var pyramids [3]*pyramid
	for i, p := range planes {
		pyramids[i] = newPyramid(p, opt.Polarity[i], opt.Area[i])
	}
	var like [3][3]float64
	crew := newCrew(opt.workers())
	crew.begin()
	defer crew.end()
	for i := range 3 {
		j := (i + 1) % 3
		back, ok := found[i].Matrix.Inverse()
		if !ok {
			return out
		}
		p := &pair{&keyPlate{key: pyramids[i]}, pyramids[j], crew}
		like[i][j] = p.likeness(found[j].Matrix.Mul(back))
		like[j][i] = like[i][j]
	}
	for i := range 3 {
		out.Score[i] = (like[i][0] + like[i][1] + like[i][2]) / 2
	}
	best := opt.Key
	for i, s := range out.Score {
		if s > out.Score[best] {
			best = i
		}
	}
	if third := 3 - best - opt.Key; best != opt.Key && like[best][third] > betterKey*like[opt.Key][third] {
		out.Key = best
		out.Why = fmt.Sprintf("The %s plate agrees better with the %s one (%.0f %% against %.0f %% for the %s plate): it may be sharper, cleaner or less warped.",
			names[best], names[third], 100*like[best][third], 100*like[opt.Key][third], names[opt.Key])
	}
	return out
}

// likeness is how alike two plates in register are, 0 … 1, where m lays the one on the other.
func (p *pair) likeness(m affine.Matrix) float64 {
	g := newMatcher(newPatchSet(newDetailed(p.key), p.key, 0, smallPatch, comparedPlaces, overlapping))
	g.expect(p.other, m, g.patches)
	alike, ok := make([]float64, len(g.patches)), make([]bool, len(g.patches))
	p.crew.each(g, len(g.patches), func(g *matcher, i int) {
		f, on := g.find(p.other, m, g.patches[i])
		if off := math.Hypot(f.dx, f.dy); on && f.settled && off < comparedWithin {
			alike[i] = max(f.score, 0) * (1 - off/comparedWithin)
		}
		ok[i] = on
	})
	var sum, n float64
	for i, v := range alike {
		if ok[i] {
			sum, n = sum+v, n+1
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}

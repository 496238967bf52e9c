package register

import (
	"context"
	"fmt"
	"math"

	"threeply/proof/plane"
)

// Proposal is the plate that would make the best key.
type Proposal struct {
	Key   int    // index of the plate
	Why   string // one sentence
	Score [3]float64
}

// PlanesAndKey is Planes with the plate that would make the best key. It compares
// the plates at full size, two by two, at sixty places rich in detail: how alike their
// edges are, and how near they lie to where the maps put them, 0..1. Blur, grain,
// damage and warp all make a plate less like the other two, so the plate with the
// highest mean is the best key. The present key is kept unless the third plate is more
// like the other by a tenth: what the two have in common says nothing of which is better.
// names are those of the plates, for the sentence.
func PlanesAndKey(ctx context.Context, planes [3]*plane.Plane, opt Options, names [3]string) ([3]Plate, Proposal, error) {
	var early likenesses
	out, pyramids, err := all(ctx, planes, opt, func(i int, pyramids [3]*pyramid, found [3]Plate) {
		if found[i].Confidence >= comparedFrom {
			early.compare(i, opt.Key, pyramids, found)
		}
	})
	if err != nil {
		return out, Proposal{Key: opt.Key}, err
	}
	p, err := propose(ctx, pyramids, opt, out, names, early)
	return out, p, err
}

const (
	comparedPlaces = 60  // places of each pair of plates
	comparedWithin = 3   // pixels from where the maps put a place, beyond which it counts for nothing
	comparedFrom   = 0.5 // confidence of both plates, without which there is nothing to compare
	betterKey      = 1.1 // times as alike, to the third plate, as the present key: less is not worth registering again
)

// propose finds the key of a finished registration. The error is ctx's.
func propose(ctx context.Context, pyramids [3]*pyramid, opt Options, found [3]Plate, names [3]string, like likenesses) (Proposal, error) {
	out := Proposal{Key: opt.Key, Why: fmt.Sprintf("No other plate would make a clearly better key than the %s one.", names[opt.Key])}
	for i := range found {
		if found[i].Twin {
			out.Why = fmt.Sprintf("The %s plate stays the key: two of the plates are the same scan.", names[opt.Key])
			return out, nil
		}
	}
	for i, p := range found {
		switch {
		case i == opt.Key || p.Confidence >= comparedFrom:
		case p.Confidence < FoundFrom:
			out.Why = fmt.Sprintf("The %s plate stays the key: the %s plate was not found.", names[opt.Key], names[i])
			return out, nil
		default:
			out.Why = fmt.Sprintf("The %s plate stays the key: the %s plate is not in register with it.", names[opt.Key], names[i])
			return out, nil
		}
	}
	for i := range 3 {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		if !like.compare(i, (i+1)%3, pyramids, found) {
			return out, nil
		}
	}
	for i := range 3 {
		out.Score[i] = (like.of[i][0] + like.of[i][1] + like.of[i][2]) / 2
	}
	best := opt.Key
	for i, s := range out.Score {
		if s > out.Score[best] {
			best = i
		}
	}
	if third := 3 - best - opt.Key; best != opt.Key && like.of[best][third] > betterKey*like.of[opt.Key][third] {
		out.Key = best
		out.Why = fmt.Sprintf("The %s plate agrees better with the %s one (%.0f %% against %.0f %% for the %s plate): it may be sharper, cleaner or less warped.",
			names[best], names[third], 100*like.of[best][third], 100*like.of[opt.Key][third], names[opt.Key])
	}
	return out, nil
}

// likenesses are how alike two plates in register are, 0 … 1.
type likenesses struct {
	of    [3][3]float64
	known [3][3]bool
}

// compare compares two plates, once; false where they cannot be laid on each other.
func (l *likenesses) compare(i, j int, pyramids [3]*pyramid, found [3]Plate) bool {
	if j != (i+1)%3 { // the same, whichever comes first
		i, j = j, i
	}
	if l.known[i][j] {
		return true
	}
	back, ok := found[i].Matrix.Inverse()
	if !ok {
		return false
	}
	g := newMatcher(newPatchSet(newDetailed(pyramids[i]), pyramids[i], 0, smallPatch, comparedPlaces, overlapping))
	between := found[j].Matrix.Mul(back)
	g.expect(pyramids[j], between, g.patches)
	var sum, n float64
	for _, t := range g.patches {
		if f, ok := g.find(pyramids[j], between, t); ok {
			n++
			if off := math.Hypot(f.dx, f.dy); f.settled && off < comparedWithin {
				sum += max(f.score, 0) * (1 - off/comparedWithin)
			}
		}
	}
	if n > 0 {
		l.of[i][j], l.of[j][i] = sum/n, sum/n
	}
	l.known[i][j] = true
	return true
}

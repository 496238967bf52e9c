package register

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"threeply/proof/affine"
)

// The search begins on reduced planes and ends at the full size. Sides are in
// pixels, of the longer one; the numbers of patches spread them over the picture,
// ten a side at most. All were chosen by trial on the plates of the tests: what they
// must not spoil is held by synth_test.go and real_test.go.
const (
	wideSide, nearSide   = 128, 256 // transforms of the key reduced whole
	firstSide, nextSide  = 200, 768 // longer side of the planes that patches are looked for on
	smallPatch, bigPatch = 64, 128  // transforms of a patch: on reduced planes, at full size

	firstPatches, nextPatches, lastPatches = 42, 100, 140

	overlapping, beside = 0.6, 0.9 // how near patches lie at the nearest, as a share of one

	mostPeriods = 8 // shifts at which the key fits itself that are tried
)

// keyPlate is the key, and what is made of it once and shared by both other plates.
type keyPlate struct {
	key         *pyramid
	near, wide  *overview
	first, next *patchSet              // on the planes of firstSide and nextSide
	last        func() *patchSet       // at full size, made when it is needed
	periods     func() []affine.Matrix // shifts at which the key fits itself; nil where only a place near by is asked for
	details     func() *detailed
	ruled       func() bool    // whether most of what the key shows repeats itself
	leastDetail func() float64 // what a cell's square carries at least that shows something to measure by
}

func newKeyPlate(key *pyramid) *keyPlate {
	g := &keyPlate{key: key, near: newOverview(key, nearSide), wide: newOverview(key, wideSide)}
	g.periods = sync.OnceValue(func() []affine.Matrix { return g.near.periods(key, mostPeriods) })
	g.choosePatches()
	return g
}

func (g *keyPlate) choosePatches() {
	g.details = sync.OnceValue(func() *detailed { return newDetailed(g.key) })
	g.leastDetail = sync.OnceValue(g.leastOfDetail)
	g.ruled = sync.OnceValue(g.findRuled)
	g.first = newPatchSet(g.details(), g.key, g.key.levelFor(firstSide), smallPatch, firstPatches, overlapping)
	g.next = newPatchSet(g.details(), g.key, g.key.levelFor(nextSide), smallPatch, nextPatches, overlapping)
	g.last = sync.OnceValue(func() *patchSet { return newPatchSet(g.details(), g.key, 0, bigPatch, lastPatches, beside) })
}

// pair is one plate against the key.
type pair struct {
	*keyPlate
	other *pyramid
	crew  crew
}

// reached is the confidence at which the search for other places ends.
const reached = 0.6

// coarse finds the map to within about half a pixel of the plane of nextSide. It
// first takes the plates as they lie, and turns, mirrors and resizes them only when
// their patches disagree so.
func (p *pair) coarse(ctx context.Context, tell func(float64)) (candidate, error) {
	best := p.settle(ctx, p.asTheyLie(), 2)
	if err := ctx.Err(); err != nil {
		return best, err
	}
	best = p.unrivalled(ctx, best)
	if err := ctx.Err(); err != nil {
		return best, err
	}
	tell(0.3)
	if best.vote.confidence >= reached || best.vote.repeats {
		return best, nil
	}
	hypotheses, err := p.turned(ctx, func(done float64) { tell(0.3 + 0.4*done) })
	if err != nil {
		return best, err
	}
	if other := p.unrivalled(ctx, p.settle(ctx, hypotheses, 4)); other.vote.confidence > best.vote.confidence {
		best = other
	}
	return best, ctx.Err()
}

// unrivalled tries a map again with the key moved by each of the shifts at which it fits
// itself: in repeated ornament the map may lie a period off, and is only as sure as no
// other has as many patches behind it.
func (p *pair) unrivalled(ctx context.Context, best candidate) candidate {
	if best.vote.confidence < FoundFrom {
		return best
	}
	g := newMatcher(p.next)
	list := []candidate{best}
	for _, shift := range p.periods() {
		if c := p.step(ctx, candidate{m: best.m.Mul(shift)}, g, nearby, stiffNext); c.vote.confidence > 0 {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.vote.share, a.vote.share) })
	most := list[0]
	for _, c := range list[1:] {
		if !p.samePlace(most, c) {
			return most.leading(c.vote.share)
		}
	}
	return most
}

// leading is a candidate as sure as its lead over a rival's share of the patches.
// Repeated ornament, shifted by its period, has as many behind it as the truth.
func (c candidate) leading(rival float64) candidate {
	const none, enough = 0.05, 0.2 // lead at which two places are as good as each other, and at which one is alone
	lead := ramp(c.vote.share-rival, none, enough)
	c.vote.repeats = c.vote.repeats || lead < 0.5 && c.vote.confidence > 0.5
	c.vote.confidence *= lead
	return c
}

// ratio is the scale that brings the other plate's size to the key's.
func (p *pair) ratio() float64 {
	k, o := p.key.levels[0], p.other.levels[0]
	return math.Sqrt(float64(o.W*o.H) / float64(k.W*k.H))
}

// asTheyLie is the shifts of the plates as they lie: pixel on pixel and, when their
// sizes differ by more than 3 %, also brought to one size.
func (p *pair) asTheyLie() []hypothesis {
	hypotheses := p.near.bestShifts(p.other, p.centred(affine.Identity), 3)
	if r := p.ratio(); math.Abs(r-1) > 0.03 {
		hypotheses = append(hypotheses, p.near.bestShifts(p.other, p.centred(affine.Scale(r, r)), 3)...)
	}
	return hypotheses
}

// centred is m moved so that the centre of the key's area meets the other's.
func (p *pair) centred(m affine.Matrix) affine.Matrix {
	x, y := m.Apply((p.key.area[0]+p.key.area[2])/2, (p.key.area[1]+p.key.area[3])/2)
	return affine.Translate((p.other.area[0]+p.other.area[2])/2-x, (p.other.area[1]+p.other.area[3])/2-y).Mul(m)
}

// nearby is how far a patch may lie from its map's place to agree with it, in
// pixels of the plane that it was measured on.
const nearby = 1.5

// How far the linear part of a map may be moved in one step: the first steps have
// to take up 5° of turn and 7.7 % of size that lie between two hypotheses, the later
// ones only what the first left.
const (
	stiffAtFirst = 0.12
	stiffNext    = 0.05
	stiffLast    = 0.02
)

// settle measures patches for each hypothesis on the first plane, and for the keep
// best of them on the next one. Hypotheses that come to the same place as the best
// count once. Where another place has nearly as many patches behind it as the best,
// the picture repeats itself, and the confidence falls.
func (p *pair) settle(ctx context.Context, hypotheses []hypothesis, keep int) candidate {
	const (
		certain   = 0.95 // confidence from which another place is looked at only for being as good
		farBehind = 0.3  // share of patches by which another place is too far behind to matter
	)
	first, next := newMatcher(p.first), newMatcher(p.next)
	var list []candidate
	for _, h := range hypotheses {
		if ctx.Err() != nil {
			break
		}
		c := p.step(ctx, candidate{m: h.m}, first, nearby, stiffAtFirst)
		list = append(list, p.step(ctx, c, first, nearby, stiffAtFirst))
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.vote.share, a.vote.share) })
	best, rival := candidate{m: p.centred(affine.Identity)}, 0.0
	for i, c := range list {
		if ctx.Err() != nil {
			break
		}
		sure := best.vote.confidence > certain
		if i >= keep && !sure || i >= 2*keep || sure && (p.samePlace(best, c) || c.vote.share < best.vote.share-farBehind) {
			continue
		}
		c = p.remeasure(ctx, p.step(ctx, c, next, nearby, stiffNext), next, nearby)
		better := c.vote.confidence > best.vote.confidence
		switch {
		case p.samePlace(best, c):
		case better:
			rival = best.vote.share
		default:
			rival = max(rival, c.vote.share)
		}
		if better {
			best = c
		}
	}
	return best.leading(rival)
}

// samePlace says whether two candidates put the corners of the key's area within
// four pixels, on the plane of nextSide, of each other.
func (p *pair) samePlace(a, b candidate) bool {
	return p.cornersApart(a.m, b.m) <= 4*math.Exp2(float64(p.next.level))
}

// cornersApart is how far two maps put a corner of the key's area apart at most, in pixels
// of the other plate.
func (p *pair) cornersApart(a, b affine.Matrix) float64 {
	k, most := p.key.area, 0.0
	for _, at := range [4][2]float64{{k[0], k[1]}, {k[2], k[1]}, {k[0], k[3]}, {k[2], k[3]}} {
		x, y := a.Apply(at[0], at[1])
		u, v := b.Apply(at[0], at[1])
		most = max(most, math.Hypot(x-u, y-v))
	}
	return most
}

package register

import (
	"cmp"
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
)

// pair is one plate against the key.
type pair struct {
	key, other *sheet
	near, wide *lattice // of the key: finer for the plain case, coarser for all others
	small      *gauge
}

// candidate is a map with the patches that were measured under it.
type candidate struct {
	m       affine.Matrix
	before  affine.Matrix // the map that the patches were measured under
	patches []found
	verdict verdict
}

// reached is the confidence at which no further hypothesis is tried.
const reached = 0.6

// coarse finds the map to within about half a pixel of the 768-pixel level.
// Plates that lie alike are tried first, the others only when those disagree.
func (p *pair) coarse(ctx context.Context, tell func(float64)) (candidate, error) {
	best := p.settle(ctx, p.plain(), 2)
	if err := ctx.Err(); err != nil {
		return best, err
	}
	tell(0.3)
	if best.verdict.confidence >= reached {
		return best, nil
	}
	peaks, err := p.turned(ctx, func(done float64) { tell(0.3 + 0.5*done) })
	if err != nil {
		return best, err
	}
	if other := p.settle(ctx, peaks, 4); other.verdict.confidence > best.verdict.confidence {
		best = other
	}
	return best, ctx.Err()
}

// plain is the plates as they lie, at the same resolution or, when their sizes
// differ much, also at the same size.
func (p *pair) plain() []peak {
	k, o := p.key.levels[0], p.other.levels[0]
	peaks := p.near.shifts(p.other, p.centred(affine.Identity), 3)
	ratio := math.Sqrt(float64(o.W*o.H) / float64(k.W*k.H))
	if math.Abs(ratio-1) > 0.03 {
		peaks = append(peaks, p.near.shifts(p.other, p.centred(affine.Scale(ratio, ratio)), 3)...)
	}
	return peaks
}

// centred is m moved so that the centre of the key's area meets the other's.
func (p *pair) centred(m affine.Matrix) affine.Matrix {
	cx, cy := (p.key.area[0]+p.key.area[2])/2, (p.key.area[1]+p.key.area[3])/2
	x, y := m.Apply(cx, cy)
	return affine.Translate((p.other.area[0]+p.other.area[2])/2-x, (p.other.area[1]+p.other.area[3])/2-y).Mul(m)
}

// turned tries mirrored and turned plates of other scales and keeps the
// likeliest.
func (p *pair) turned(ctx context.Context, tell func(float64)) ([]peak, error) {
	k, o := p.key.levels[0], p.other.levels[0]
	scales := []float64{0.8, 0.895, 1, 1.12, 1.25}
	ratio := math.Sqrt(float64(o.W*o.H) / float64(k.W*k.H))
	if ratio < 0.75 || ratio > 1.33 {
		scales = append(scales, ratio)
	}
	var peaks []peak
	tried := 0.0
	for _, flip := range [2]float64{1, -1} {
		for _, quarter := range [4]float64{0, 90, 180, 270} {
			for turn := -15.0; turn <= 15; turn += 5 {
				if err := ctx.Err(); err != nil {
					return nil, err
				}
				for _, s := range scales {
					m := affine.Compose(affine.Parts{Turn: quarter + turn, StretchX: s, StretchY: s * flip}, 0, 0)
					peaks = append(peaks, p.wide.shifts(p.other, p.centred(m), 1)...)
				}
				tried++
				tell(tried / 56)
			}
		}
	}
	slices.SortStableFunc(peaks, func(a, b peak) int { return cmp.Compare(b.score, a.score) })
	return peaks[:min(len(peaks), 16)], nil
}

// settle refines peaks at about 200 pixels and the best keep of them at 768.
func (p *pair) settle(ctx context.Context, peaks []peak, keep int) candidate {
	l := p.key.levelFor(200)
	places := spots(p.key, l, p.small.tile, 42)
	var list []candidate
	for _, k := range peaks {
		if ctx.Err() != nil {
			break
		}
		c := p.step(candidate{m: k.m}, l, p.small, places, 1.5, 0.12)
		list = append(list, p.step(c, l, p.small, places, 1.5, 0.12))
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.verdict.share, a.verdict.share) })
	l = p.key.levelFor(768)
	places = spots(p.key, l, p.small.tile, 100)
	best := candidate{m: p.centred(affine.Identity)}
	for _, c := range list[:min(len(list), keep)] {
		if ctx.Err() != nil {
			break
		}
		c = p.step(c, l, p.small, places, 1.5, 0.05)
		c = p.step(c, l, p.small, places, 1.5, 0.05)
		if c.verdict.confidence > best.verdict.confidence {
			best = c
		}
	}
	return best
}

// step measures the patches under c.m and fits the map to them.
func (p *pair) step(c candidate, l int, g *gauge, places []spot, tol, stiff float64) candidate {
	c.before, c.patches = c.m, nil
	for _, s := range places {
		if f, ok := g.find(p.key, p.other, c.m, l, s); ok {
			c.patches = append(c.patches, f)
		}
	}
	fit, ok := consensus(c.patches, tol, stiff)
	c.verdict = judge(c.patches, fit, tol, len(places))
	if !ok {
		return c
	}
	next := c.m.Mul(from(l)).Mul(fit).Mul(onto(l))
	if plausible(next) {
		c.m = next
	} else {
		c.verdict = verdict{}
	}
	return c
}

// plausible refuses what no scan of the same plate does: scales beyond
// 0.4 to 2.5, axes that stretch by more than 6 % apart, a shear beyond 3°.
func plausible(m affine.Matrix) bool {
	p := m.Decompose(0, 0)
	sx, sy := p.StretchX, math.Abs(p.StretchY)
	return sx > 0.4 && sx < 2.5 && sy > 0.4 && sy < 2.5 && math.Abs(math.Log(sx/sy)) < 0.06 && math.Abs(p.Shear) < 0.05
}

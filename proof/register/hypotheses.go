package register

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"threeply/proof/affine"
)

// ground is what is made of the key once and shared by both other plates.
type ground struct {
	key         *sheet
	near, wide  *lattice
	first, next *bed
	last        func() *bed            // at full size, made when it is needed
	periods     func() []affine.Matrix // shifts at which the key fits itself
}

func newGround(key *sheet) *ground {
	g := &ground{key: key, near: newLattice(key, 256), wide: newLattice(key, 128)}
	g.periods = sync.OnceValue(func() []affine.Matrix { return g.near.periods(key, 8) })
	g.beds()
	return g
}

// beds chooses the patches.
func (g *ground) beds() {
	g.first, g.next = newBed(g.key, g.key.levelFor(200), 64, 42), newBed(g.key, g.key.levelFor(768), 64, 100)
	g.last = sync.OnceValue(func() *bed { return newBed(g.key, 0, 128, 140) })
}

// pair is one plate against the key.
type pair struct {
	*ground
	other *sheet
}

// candidate is a map with the patches that were measured for it.
type candidate struct {
	m       affine.Matrix
	patches []found // measured from where m puts them
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
	best = p.unrivalled(ctx, best)
	if err := ctx.Err(); err != nil {
		return best, err
	}
	tell(0.3)
	if best.verdict.confidence >= reached || best.verdict.repeats {
		return best, nil
	}
	peaks, err := p.turned(ctx, func(done float64) { tell(0.3 + 0.4*done) })
	if err != nil {
		return best, err
	}
	if other := p.unrivalled(ctx, p.settle(ctx, peaks, 4)); other.verdict.confidence > best.verdict.confidence {
		best = other
	}
	return best, ctx.Err()
}

// unrivalled tries a map again with the key moved by each of the shifts at which it fits
// itself: in repeated ornament the map may lie a period off, and is only as sure as no
// other has as many patches behind it.
func (p *pair) unrivalled(ctx context.Context, best candidate) candidate {
	if best.verdict.confidence < FoundFrom {
		return best
	}
	g := newGauge(p.next)
	list := []candidate{best}
	for _, shift := range p.periods() {
		if c := p.step(ctx, candidate{m: best.m.Mul(shift)}, g, 1.5, 0.05); c.verdict.confidence > 0 {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.verdict.share, a.verdict.share) })
	most := list[0]
	for _, c := range list[1:] {
		if !p.alike(most, c) {
			return most.leading(c.verdict.share)
		}
	}
	return most
}

// leading is a candidate as sure as its lead over a rival's share of the patches.
// Repeated ornament, shifted by its period, has as many behind it as the truth.
func (c candidate) leading(rival float64) candidate {
	lead := ramp(c.verdict.share-rival, 0.05, 0.2)
	c.verdict.repeats = c.verdict.repeats || lead < 0.5 && c.verdict.confidence > 0.5
	c.verdict.confidence *= lead
	return c
}

// ratio is the scale that brings the other plate's size to the key's.
func (p *pair) ratio() float64 {
	k, o := p.key.levels[0], p.other.levels[0]
	return math.Sqrt(float64(o.W*o.H) / float64(k.W*k.H))
}

// plain is the plates as they lie, at the same resolution or, when their sizes
// differ much, also at the same size.
func (p *pair) plain() []peak {
	peaks := p.near.shifts(p.other, p.centred(affine.Identity), 3)
	if r := p.ratio(); math.Abs(r-1) > 0.03 {
		peaks = append(peaks, p.near.shifts(p.other, p.centred(affine.Scale(r, r)), 3)...)
	}
	return peaks
}

// centred is m moved so that the centre of the key's area meets the other's.
func (p *pair) centred(m affine.Matrix) affine.Matrix {
	x, y := m.Apply((p.key.area[0]+p.key.area[2])/2, (p.key.area[1]+p.key.area[3])/2)
	return affine.Translate((p.other.area[0]+p.other.area[2])/2-x, (p.other.area[1]+p.other.area[3])/2-y).Mul(m)
}

// turned tries mirrored and turned plates of other scales, in a small frame,
// looks again at the likeliest in the larger one and keeps the best of those.
func (p *pair) turned(ctx context.Context, tell func(float64)) ([]peak, error) {
	scales := []float64{0.8, 0.862, 0.928, 1, 1.077, 1.16, 1.25}
	if r := p.ratio(); r < 0.78 || r > 1.28 {
		scales = append(scales, 0.94*r, r, 1.06*r)
	}
	var rough []peak
	tried := 0.0
	for _, flip := range [2]float64{1, -1} {
		for _, quarter := range [4]float64{0, 90, 180, 270} {
			for turn := -15.0; turn <= 15; turn += 5 {
				if err := ctx.Err(); err != nil {
					return nil, err
				}
				for _, s := range scales {
					m := affine.Compose(affine.Parts{Turn: quarter + turn, StretchX: s, StretchY: s * flip}, 0, 0)
					rough = append(rough, p.wide.rough(p.other, p.centred(m))...)
				}
				tried++
				tell(0.8 * tried / 56)
			}
		}
	}
	best := func(list []peak, n int) []peak {
		slices.SortStableFunc(list, func(a, b peak) int { return cmp.Compare(b.score, a.score) })
		return list[:min(len(list), n)]
	}
	var peaks []peak
	for _, k := range best(rough, 24) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		peaks = append(peaks, p.near.shifts(p.other, k.m, 1)...)
	}
	tell(1)
	return best(peaks, 10), nil
}

// settle refines peaks at about 200 pixels and the best keep of them at 768.
func (p *pair) settle(ctx context.Context, peaks []peak, keep int) candidate {
	first, next := newGauge(p.first), newGauge(p.next)
	var list []candidate
	for _, k := range peaks {
		if ctx.Err() != nil {
			break
		}
		c := p.step(ctx, candidate{m: k.m}, first, 1.5, 0.12)
		list = append(list, p.step(ctx, c, first, 1.5, 0.12))
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.verdict.share, a.verdict.share) })
	best, rival := candidate{m: p.centred(affine.Identity)}, 0.0
	for i, c := range list {
		if ctx.Err() != nil {
			break
		}
		sure := best.verdict.confidence > 0.95
		if i >= keep && !sure || i >= 2*keep || sure && (p.alike(best, c) || c.verdict.share < best.verdict.share-0.3) {
			continue
		}
		c = p.again(ctx, p.step(ctx, c, next, 1.5, 0.05), next, 1.5)
		switch {
		case p.alike(best, c):
		case c.verdict.confidence > best.verdict.confidence:
			rival = best.verdict.share
			best = c
			continue
		default:
			rival = max(rival, c.verdict.share)
		}
		if c.verdict.confidence > best.verdict.confidence {
			best = c
		}
	}
	return best.leading(rival)
}

// alike says whether two candidates put the corners of the key's area within
// four pixels, at 768, of each other.
func (p *pair) alike(a, b candidate) bool {
	k := p.key.area
	far := 4 * math.Exp2(float64(p.next.level))
	for _, at := range [4][2]float64{{k[0], k[1]}, {k[2], k[1]}, {k[0], k[3]}, {k[2], k[3]}} {
		x, y := a.m.Apply(at[0], at[1])
		u, v := b.m.Apply(at[0], at[1])
		if math.Hypot(x-u, y-v) > far {
			return false
		}
	}
	return true
}

// step looks for the patches around where c.m puts them and fits the map to
// what was found. It returns c when ctx ends.
func (p *pair) step(ctx context.Context, c candidate, g *gauge, tol, stiff float64) candidate {
	var patches []found
	for _, t := range g.templates {
		if ctx.Err() != nil {
			return c
		}
		if f, ok := g.find(p.other, c.m, t); ok {
			patches = append(patches, f)
		}
	}
	c = p.fit(c, patches, g.bed, tol, stiff)
	c.verdict = judge(c.patches, tol, len(g.templates))
	return c
}

// again measures the patches once more, each around its own place under the map
// that they gave, and fits anew.
func (p *pair) again(ctx context.Context, c candidate, g *gauge, tol float64) candidate {
	if len(c.patches) == 0 {
		return c
	}
	patches := slices.Clone(c.patches)
	for i, f := range patches {
		if ctx.Err() != nil {
			return c
		}
		if f.settled {
			if f = g.nudge(p.other, c.m, f); f.settled {
				patches[i] = f
			}
		}
	}
	v := c.verdict
	c = p.fit(c, patches, g.bed, tol, 0.02)
	c.verdict = v
	return c
}

// fit moves c.m to what most patches say and counts the patches from there. It
// drops them all where they say nothing, or what cannot be.
func (p *pair) fit(c candidate, patches []found, b *bed, tol, stiff float64) candidate {
	move, ok := consensus(patches, tol, stiff)
	c.patches = patches
	if next, fits := p.moved(c, move, b); ok && fits {
		return next
	}
	c.patches = nil
	return c
}

// moved is c with its map moved, pixel of the level to pixel of the level, and its
// patches counted from there. ok is false where that cannot be.
func (p *pair) moved(c candidate, move affine.Matrix, b *bed) (next candidate, ok bool) {
	next = candidate{m: c.m.Mul(affine.FromLevel(b.level)).Mul(move).Mul(affine.ToLevel(b.level)), verdict: c.verdict}
	back, whole := move.Inverse()
	if !whole || !plausible(next.m) {
		return c, false
	}
	for _, f := range c.patches {
		x, y := back.Apply(f.x+f.dx, f.y+f.dy)
		f.dx, f.dy = x-f.x, y-f.y
		next.patches = append(next.patches, f)
	}
	return next, true
}

// plausible refuses what no scan of the same plate does: scales beyond
// 0.4 to 2.5, axes that stretch by more than 6 % apart, a shear beyond 3°.
func plausible(m affine.Matrix) bool {
	p := m.Decompose(0, 0)
	sx, sy := p.StretchX, math.Abs(p.StretchY)
	return sx > 0.4 && sx < 2.5 && sy > 0.4 && sy < 2.5 && math.Abs(math.Log(sx/sy)) < 0.06 && math.Abs(p.Shear) < 0.05
}

package register

import (
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
)

// candidate is a map with the patches that were measured for it.
type candidate struct {
	m       affine.Matrix
	patches []measured // measured from where m puts them
	vote    vote
	look    look // in which the patches were measured last; the zero look is that of the plates
}

// step looks for every patch around where c.m puts it, and fits the map to what was
// found. It returns c when ctx ends.
func (p *pair) step(ctx context.Context, c candidate, g *matcher, tol, stiff float64) candidate {
	return p.stepBy(ctx, c, g, tol, stiff, func(g *matcher, t *patch) (measured, bool) { return g.find(p.other, c.m, t) })
}

// stepBy is step with another way to look for a patch.
func (p *pair) stepBy(ctx context.Context, c candidate, g *matcher, tol, stiff float64, look func(*matcher, *patch) (measured, bool)) candidate {
	seen, ok := make([]measured, len(g.patches)), make([]bool, len(g.patches))
	p.crew.each(g, len(g.patches), func(g *matcher, i int) {
		if ctx.Err() == nil {
			seen[i], ok[i] = look(g, g.patches[i])
		}
	})
	if ctx.Err() != nil {
		return c
	}
	var patches []measured
	for i, f := range seen {
		if ok[i] {
			patches = append(patches, f)
		}
	}
	c = p.fit(c, patches, g.patchSet, tol, stiff)
	c.vote = countVotes(c.patches, tol, len(g.patches))
	return c
}

// stepNear is step for a map that is nearly right: only patches that are not where it
// puts them are searched for.
func (p *pair) stepNear(ctx context.Context, c candidate, g *matcher, tol, stiff float64) candidate {
	return p.stepBy(ctx, c, g, tol, stiff, func(g *matcher, t *patch) (measured, bool) {
		if f, ok := g.confirm(p.other, c.m, t); ok {
			return f, true
		}
		return g.find(p.other, c.m, t)
	})
}

// remeasure measures each patch that was found once more, around the place where it
// was found, and fits the map anew. The vote stays that of the search.
func (p *pair) remeasure(ctx context.Context, c candidate, g *matcher, tol float64) candidate {
	if len(c.patches) == 0 {
		return c
	}
	patches := slices.Clone(c.patches)
	p.crew.each(g, len(patches), func(g *matcher, i int) {
		if patches[i].settled && ctx.Err() == nil {
			if f := g.nudge(p.other, c.m, patches[i]); f.settled {
				patches[i] = f
			}
		}
	})
	if ctx.Err() != nil {
		return c
	}
	v := c.vote
	c = p.fit(c, patches, g.patchSet, tol, stiffLast)
	c.vote = v
	return c
}

// fit moves c's map to what most patches say, and gives their places against that
// map. It drops all patches where they agree on nothing, or on a map that no scan of
// the same plate has.
func (p *pair) fit(c candidate, patches []measured, b *patchSet, tol, stiff float64) candidate {
	move, ok := consensus(patches, tol, stiff)
	c.patches = patches
	if next, fits := p.moved(c, move, b); ok && fits {
		return next
	}
	c.patches = nil
	return c
}

// moved is c with its map moved, by a map between pixels of the patches' level, and
// the places of its patches given against the new map. ok is false where no scan of
// the same plate has such a map.
func (p *pair) moved(c candidate, move affine.Matrix, b *patchSet) (next candidate, ok bool) {
	next = candidate{m: c.m.Mul(affine.FromLevel(b.level)).Mul(move).Mul(affine.ToLevel(b.level)), vote: c.vote, look: c.look}
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

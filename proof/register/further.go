package register

import (
	"cmp"
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
)

const (
	// certainFrom is the certainty from which a place counts as measured. Noise and
	// bare ground seldom come above 0.4 (figures of our own, of real separations).
	certainFrom = 0.5

	// likelyFrom is the certainty from which a place counts where its neighbours say
	// the same.
	likelyFrom = 0.2
)

// Sure says whether the place was measured with certainty.
func (o Offset) Sure() bool { return o.Certainty >= certainFrom }

// agrees says whether a patch was measured and lies within tol of the map.
func (f measured) agrees(tol float64) bool { return f.settled && math.Hypot(f.dx, f.dy) <= tol }

// lookFurther measures the patches that were not measured with certainty anew, there
// where a wider search shows that a part of the picture lies. It is for subjects that
// moved and film that is torn, beyond the reach of g.
func (p *pair) lookFurther(ctx context.Context, c candidate, g *matcher) candidate {
	seen := p.foundFurther(ctx, c, g)
	if len(seen) == 0 {
		return c
	}
	c.patches = slices.Clone(c.patches)
	for i, f := range c.patches {
		if certainty(f) >= certainFrom || ctx.Err() != nil {
			continue
		}
		nearest := slices.MinFunc(seen, func(a, b measured) int { return cmp.Compare(a.distance(f), b.distance(f)) })
		there := p.measureAround(c.m, g, f.patch, nearest.dx, nearest.dy).against(f.home)
		there.unique = min(there.unique, nearest.unique)
		c.patches[i] = moreCertain(f, there)
	}
	return c
}

// lookBetween measures the patches that were not measured with certainty where those around
// them say that they lie: what repeats itself, as hatching does, fits in many places, and
// only what lies around tells in which of them it is. It goes on from what it has found.
func (p *pair) lookBetween(ctx context.Context, c candidate, g *matcher) candidate {
	const (
		rounds  = 4
		reach   = 2.5 // sides of a patch to those around
		fewest  = 2   // of them
		differs = 1.5 // pixels by which they may lie off otherwise than their mean
	)
	c.patches = slices.Clone(c.patches)
	for range rounds {
		before, more := slices.Clone(c.patches), false
		for i, f := range before {
			if certainty(f) >= certainFrom || ctx.Err() != nil {
				continue
			}
			var around []measured
			var dx, dy, all float64
			for _, o := range before {
				if d := o.distance(f); certainty(o) >= certainFrom && d < reach*float64(g.tile) {
					around = append(around, o)
					dx, dy, all = dx+o.dx/(d+1), dy+o.dy/(d+1), all+1/(d+1)
				}
			}
			if len(around) < fewest {
				continue
			}
			dx, dy = dx/all, dy/all
			if slices.ContainsFunc(around, func(o measured) bool { return math.Hypot(o.dx-dx, o.dy-dy) > differs }) {
				continue // a tear, or what moved
			}
			there := c.m.Mul(affine.FromLevel(g.level)).Mul(affine.Translate(dx, dy)).Mul(affine.ToLevel(g.level))
			if found, ok := g.confirm(p.other, there, f.patch); ok {
				found.dx, found.dy = found.dx+dx, found.dy+dy
				c.patches[i], more = found, true
			}
		}
		if !more {
			break
		}
	}
	return c
}

// foundFurther searches 40 pixels of a reduced plane each way, of a small picture then of its half, for the patches that were
// not measured with certainty, and returns those that it finds beyond the reach of g,
// in pixels of g's level. One alone is no evidence: a neighbour must lie off by the
// same. Where nearly all patches were measured there is nothing to search for.
func (p *pair) foundFurther(ctx context.Context, c candidate, g *matcher) []measured {
	const oneIn = 12 // patches may be unknown without a search
	var unknown []measured
	for _, f := range c.patches {
		if certainty(f) < certainFrom {
			unknown = append(unknown, f)
		}
	}
	if oneIn*len(unknown) < len(c.patches) {
		return nil
	}
	for level := max(p.next.level-1, min(p.next.level, 1)); level <= max(p.next.level-1, 1); level++ {
		if seen := p.foundOn(ctx, level, c, g, unknown); len(seen) > 0 {
			return seen
		}
	}
	return nil
}

// foundOn is foundFurther on the plane of one level.
func (p *pair) foundOn(ctx context.Context, level int, c candidate, g *matcher, unknown []measured) []measured {
	const (
		wide    = 128 // transform of the search
		covered = 0.3 // of the search must lie on the plate: at an edge half of it does not
		beyond  = 0.6 // of g's reach: what lies nearer was in the reach of g
	)
	if level >= len(p.key.levels) {
		return nil
	}
	far := newMatcher(p.next.wider(level, wide))
	far.least = covered
	size, plane := math.Exp2(float64(level-g.level)), p.key.levels[level]
	if min(plane.W, plane.H) < far.tile {
		return nil
	}
	var seen []measured
	for _, u := range unknown {
		if ctx.Err() != nil {
			return nil
		}
		half := float64(far.tile-1) / 2
		x, y := affine.ToLevel(level).Mul(affine.FromLevel(g.level)).Apply(u.x, u.y)
		t := &patch{sharp: u.sharp, x: min(max(int(math.Round(x-half)), 0), plane.W-far.tile), y: min(max(int(math.Round(y-half)), 0), plane.H-far.tile)}
		f, ok := far.find(p.other, c.m, t)
		f.x, f.y, f.dx, f.dy = u.x, u.y, size*f.dx, size*f.dy
		if ok && certainty(f) >= certainFrom && math.Hypot(f.dx, f.dy) > beyond*float64(g.reach) {
			seen = append(seen, f)
		}
	}
	return slices.DeleteFunc(slices.Clone(seen), func(f measured) bool { return !f.hasCompany(seen, 4*far.sideIn(g), 2*size) })
}

// hasCompany says whether another patch lies off by the same, to within tol: one that
// is nearer than reach, but so far that it shares no more than half of its pixels.
func (f measured) hasCompany(all []measured, reach, tol float64) bool {
	return slices.ContainsFunc(all, func(o measured) bool {
		d := o.distance(f)
		return d > reach/6 && d < reach && certainty(o) >= likelyFrom && math.Hypot(o.dx-f.dx, o.dy-f.dy) < tol
	})
}

// doubtLoners marks the patches that lie elsewhere alone, which halves their certainty:
// a speck of dust was taken for another one, or there is nothing but noise.
func doubtLoners(patches []measured, g *matcher, tol float64) []measured {
	out := slices.Clone(patches)
	for i, f := range out {
		out[i].alone = f.settled && !f.agrees(tol) && !f.hasCompany(patches, 3*g.sideIn(g), tol)
	}
	return out
}

// distance is the distance between two patches.
func (f measured) distance(o measured) float64 { return math.Hypot(f.x-o.x, f.y-o.y) }

// sideIn is the side of a patch of b in pixels of g's level.
func (b *patchSet) sideIn(g *matcher) float64 {
	return float64(b.tile) * math.Exp2(float64(b.level-g.level))
}

// measureAround searches for a patch around the place (dx, dy), pixels of the level,
// from where m puts it.
func (p *pair) measureAround(m affine.Matrix, g *matcher, t *patch, dx, dy float64) measured {
	there := m.Mul(affine.FromLevel(g.level)).Mul(affine.Translate(dx, dy)).Mul(affine.ToLevel(g.level))
	f, ok := g.find(p.other, there, t)
	if !ok || !f.settled {
		return measured{home: f.home}
	}
	if again := g.nudge(p.other, there, f); again.settled {
		f = again
	}
	f.dx, f.dy = f.dx+dx, f.dy+dy
	return f
}

// against is a place elsewhere, held against how well the patch fits where the map puts it:
// what repeats itself fits in both.
func (f measured) against(home float64) measured {
	f.home = home
	if f.settled && f.score > 0 {
		f.unique = min(f.unique, max(1-home/f.score, 0))
	}
	return f
}

// moreCertain is whichever of two measures of a patch is more certain.
func moreCertain(f, other measured) measured {
	if other.settled && certainty(other) > certainty(f) {
		return other
	}
	return f
}

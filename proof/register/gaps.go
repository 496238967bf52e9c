package register

import (
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/survey"
)

// cellsWanted is about how many cells the survey of a plate has, ten a side or so.
const cellsWanted = 108

// fillGaps measures the edges of the picture, and the cells of a survey in which no place
// was measured with certainty: by small patches at full size, then by ever coarser ones,
// which a blurred plate still shows, at last by a wide search, for strips that moved or
// are torn off. It returns the places that it is certain of, in pixels of the full size,
// measured from where m puts them, and the cells that it suspects not to be there (gone).
func (p *pair) fillGaps(ctx context.Context, c *candidate, grid *survey.Map, have []measured, tol float64) (all []measured, suspects []int) {
	const coarsest = 3 // level
	m := c.m
	all = slices.Clone(have)
	edge := &patchSet{key: p.key, level: p.edgeLevel()}
	edge.setTransform(smallPatch)
	found, missed := p.measure(ctx, newMatcher(edge), c, grid, p.rim(edge, grid), all)
	atRim, dropped := missed, slices.Clone(missed)
	for _, f := range found {
		// Where the picture is known up to its edge, a border that the scans have there
		// may spoil what agrees: only what lies elsewhere is told of.
		if f.elsewhere(tol) || len(within(grid, grid.At(f.x, f.y), have, speaksFor)) == 0 {
			all = append(all, f)
		} else {
			dropped = append(dropped, f)
		}
	}
	for l := range min(coarsest+1, len(p.key.levels)) {
		open := p.openCells(m, grid, all)
		if l > p.next.level {
			open = slices.DeleteFunc(open, func(i int) bool { return refuted(grid, i, have) })
		}
		if len(open) == 0 || ctx.Err() != nil {
			break
		}
		b := &patchSet{key: p.key, level: l}
		b.setTransform(smallPatch)
		if plane := p.key.levels[l]; 4*b.tile > 3*min(plane.W, plane.H) {
			break
		}
		found, unseen := p.measure(ctx, newMatcher(b), c, grid, p.patchesIn(b, grid, open), all)
		all = append(all, found...)
		if l == edge.level {
			missed, dropped = append(missed, unseen...), append(dropped, unseen...)
		}
	}
	suspects = p.suspects(edge, m, grid, missed)
	if p.ruled() {
		all = withElected(all, dropped, grid)
	}
	for level := p.next.level; level <= max(p.next.level, 1); level++ { // of a small picture its half too
		all = append(all, p.searchWide(ctx, level, m, grid, edge, atRim, all)...)
	}
	return all, suspects
}

// elsewhere tells whether a place of the full size lies so far off its map that a part of
// the picture is said to.
func (f measured) elsewhere(tol float64) bool { return math.Hypot(f.dx, f.dy) > max(tol, apart) }

// openCells lists the cells that show detail, lie on the plate, and have none of the places
// that are certain in them, or hardly beyond their sides: those that only neighbours speak for
// may have moved by themselves.
func (p *pair) openCells(m affine.Matrix, grid *survey.Map, places []measured) []int {
	var open []int
	for i := range len(grid.Cells) {
		x, y := grid.Centre(i)
		if p.detail(grid, i) && p.other.has(m.Apply(x, y)) && len(within(grid, i, places, inCell)) == 0 {
			open = append(open, i)
		}
	}
	return open
}

// A place speaks for the cells whose middles are no further from it than speaksFor, in sides of a
// cell; one no further than inCell lies in the cell, or hardly beyond its sides.
const speaksFor, inCell = 1.25, 0.7

// within lists the certain places no further from the middle of cell i than reach.
func within(grid *survey.Map, i int, places []measured, reach float64) []measured {
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	var out []measured
	for _, f := range places {
		if certainty(f) >= certainFrom && math.Hypot((f.x-x)/w, (f.y-y)/h) <= reach {
			out = append(out, f)
		}
	}
	return out
}

// sharpestIn is the sharpest patch of a set in a cell: one whose middle lies there.
func (p *pair) sharpestIn(b *patchSet, grid *survey.Map, i int) *patch {
	d := p.details()
	plane := p.key.levels[b.level]
	scale := math.Exp2(float64(d.level - b.level))
	t := max(int(float64(b.tile)/scale), 4)
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	best := &patch{sharp: -1}
	const tries = 3 // places a side
	for j := range tries {
		for k := range tries {
			fx, fy := affine.ToLevel(d.level).Apply(x+w*(float64(k)-1)/tries, y+h*(float64(j)-1)/tries)
			px := min(max(int(math.Round(fx-float64(t)/2)), 0), d.w-t)
			py := min(max(int(math.Round(fy-float64(t)/2)), 0), d.h-t)
			if px < 0 || py < 0 {
				continue
			}
			if s := d.corners.weaker(px, py, t); s > best.sharp {
				best = &patch{sharp: s, x: int(float64(px) * scale), y: int(float64(py) * scale)}
			}
		}
	}
	best.x, best.y = min(best.x, plane.W-b.tile), min(best.y, plane.H-b.tile)
	return best
}

// patchesIn is the sharpest patch of a set in each of the cells.
func (p *pair) patchesIn(b *patchSet, grid *survey.Map, cells []int) []*patch {
	var out []*patch
	for _, i := range cells {
		if t := p.sharpestIn(b, grid, i); t.sharp > 0 && t.x >= 0 && t.y >= 0 {
			out = append(out, t)
		}
	}
	return out
}

// rim is the patches of a set that touch an edge of the picture, about three to two
// cells: a strip there may have moved that is narrower than a cell.
func (p *pair) rim(b *patchSet, grid *survey.Map) []*patch {
	d := p.details()
	scale := math.Exp2(float64(d.level - b.level))
	t := max(int(float64(b.tile)/scale), 4)
	to := affine.ToLevel(b.level)
	x0, y0 := to.Apply(float64(grid.Area[0]), float64(grid.Area[1]))
	x1, y1 := to.Apply(float64(grid.Area[2]-1), float64(grid.Area[3]-1))
	left, top := int(math.Ceil(x0)), int(math.Ceil(y0))
	right, low := int(x1)-b.tile+1, int(y1)-b.tile+1
	if right <= left || low <= top {
		return nil
	}
	const rich = 4 // of what shows something: an empty sky beside a border is not to be taken for more
	var out []*patch
	add := func(x, y int) {
		px, py := min(int(float64(x)/scale), d.w-t), min(int(float64(y)/scale), d.h-t)
		if px < 0 || py < 0 {
			return
		}
		if s := d.corners.weaker(px, py, t); s >= rich*p.leastDetail() {
			out = append(out, &patch{x: x, y: y, sharp: s})
		}
	}
	const tenths = 15 // of the cells along a side
	for k := range tenths*grid.Across/10 + 1 {
		x := left + (right-left)*k*10/(tenths*grid.Across)
		add(min(x, right), top)
		add(min(x, right), low)
	}
	for k := range tenths*grid.Down/10 + 1 {
		y := top + (low-top)*k*10/(tenths*grid.Down)
		add(left, min(y, low))
		add(right, min(y, low))
	}
	return out
}

// atEdges is the share of a search that must lie on the plate: at an edge half of it does
// not.
const atEdges = 0.3

// measure looks for patches where m puts them and where the nearest place that lies
// elsewhere says, and returns those that it is certain of, at full size, and the others.
func (p *pair) measure(ctx context.Context, g *matcher, c *candidate, grid *survey.Map, patches []*patch, have []measured) (found, missed []measured) {
	g.least = atEdges
	m, size := c.m, math.Exp2(float64(g.level))
	seen := make([]measured, len(patches))
	p.crew.each(g, len(patches), func(g *matcher, i int) {
		if ctx.Err() != nil {
			return
		}
		t := patches[i]
		f, ok := g.confirm(p.other, m, t)
		if !ok {
			f = p.measureAround(m, g, t, 0, 0)
		}
		if !p.ruled() && f.score <= 1-better || certainty(f) < certainFrom {
			x, y := g.middle(t)
			if o, ok := nearestElsewhere(grid, x, y, have); ok {
				f = p.orThere(m, g, t, f, o.dx/size, o.dy/size)
			}
		}
		seen[i] = f
	})
	if ctx.Err() != nil {
		return nil, nil
	}
	seen = p.doubtRivals(ctx, g, m, seen, nearby)
	for i, f := range seen {
		if f.patch = patches[i]; certainty(f) >= certainFrom {
			found = append(found, f)
		} else {
			missed = append(missed, f)
		}
	}
	p.nudgeEqualised(c.look, g.patchSet, m, found)
	found = p.withHearts(g, m, found)
	for i, f := range found {
		f.x, f.y = f.patch.heart()
		found[i] = f.atFullSize(g.level)
	}
	return found, missed
}

// orThere is where a patch was found, f, or where it lies off by (dx, dy), pixels of the level, as what
// was measured near it does: if it fits clearly better there, or was not found for certain. A patch that
// fits in both says nothing: what is smooth, or blurred, fits by the map too.
func (p *pair) orThere(m affine.Matrix, g *matcher, t *patch, f measured, dx, dy float64) measured {
	const asWell = 0.02 // score by which it may fit better by the map
	there := m.Mul(affine.FromLevel(g.level)).Mul(affine.Translate(dx, dy)).Mul(affine.ToLevel(g.level))
	o, ok := g.confirm(p.other, there, t)
	o.dx, o.dy = o.dx+dx, o.dy+dy
	if ok && f.agrees(nearby) && math.Hypot(o.dx-f.dx, o.dy-f.dy) > nearby && o.score >= f.score-asWell { // and these are two places
		if o.score >= f.score+better {
			return o.against(max(f.home, f.score))
		}
		f.unique = 0
		return f
	}
	if certainty(f) < certainFrom {
		return moreCertain(f, p.measureAround(m, g, t, dx, dy).against(f.home))
	}
	return f
}

// nearestElsewhere is the nearest certain place within three cells of (x, y) that lies
// elsewhere.
func nearestElsewhere(grid *survey.Map, x, y float64, places []measured) (nearest measured, ok bool) {
	const most = 3
	w, h := grid.Sides()
	at := most * math.Hypot(w, h)
	for _, f := range places {
		if d := math.Hypot(f.x-x, f.y-y); d < at && certainty(f) >= certainFrom && math.Hypot(f.dx, f.dy) > nearby {
			nearest, at, ok = f, d, true
		}
	}
	return nearest, ok
}

// searchWide looks for patches at the edge that were not found, and for the cells that
// are still open, in a wide search on a reduced plane, and measures those that it finds
// more finely: those that neighbours lie off with by the same, each found by itself, or all
// together (together).
func (p *pair) searchWide(ctx context.Context, level int, m affine.Matrix, grid *survey.Map, edge *patchSet, missed, have []measured) []measured {
	const tile, transform, fewest = 32, 128, 3 // one and two are no evidence
	if level >= len(p.key.levels) || min(p.key.levels[level].W, p.key.levels[level].H) < 2*tile {
		return nil
	}
	b := &patchSet{key: p.key, level: level}
	b.setTransform(transform)
	b.setTile(tile)
	wanted := p.patchesIn(b, grid, p.openCells(m, grid, have))
	for _, f := range missed {
		wanted = append(wanted, b.atEdge(grid, edge, f.patch))
	}
	if len(wanted) < fewest {
		return nil
	}
	tol := 2 * math.Exp2(float64(level))
	wide := newMatcher(b)
	wide.least = atEdges
	seen := p.searched(ctx, wide, m, wanted, nil)
	places := placesOf(seen)
	if len(missed) >= fewest && slices.ContainsFunc(places, func(f measured) bool {
		return math.Hypot(f.dx, f.dy) > tol && len(f.companions(places, grid, tol)) > 0
	}) { // something lies elsewhere: how far along the edge?
		seen = p.searched(ctx, wide, m, p.rim(b, grid), seen)
	}
	g := newMatcher(edge)
	g.least = atEdges
	var found []measured
	lies := together(seen, grid, tol)
	if p.ruled() {
		lies = append(lies, elected(seen, grid, tol)...)
	}
	for _, f := range lies {
		if ctx.Err() != nil {
			break
		}
		size := math.Exp2(float64(edge.level))
		again := p.measureAround(m, g, edge.patchAround(f.x, f.y), f.dx/size, f.dy/size)
		switch again = again.atFullSize(edge.level); {
		case again.settled && math.Hypot(again.dx-f.dx, again.dy-f.dy) < tol && (!f.vouched || certainty(again) >= certainFrom):
			f.dx, f.dy, f.precision = again.dx, again.dy, again.precision
			found = append(found, f)
		case f.vouched:
			found = append(found, f)
		}
	}
	return found
}

// atEdge is the patch of b that lies where patch t of another set does, and touches the
// edges that t touches.
func (b *patchSet) atEdge(grid *survey.Map, edge *patchSet, t *patch) *patch {
	x, y := edge.middle(t)
	side := math.Exp2(float64(edge.level)) * float64(edge.tile-1) / 2
	out := func(v float64, from, to int) float64 {
		switch {
		case v < float64(from)+2*side:
			return v - side
		case v > float64(to)-2*side:
			return v + side
		}
		return v
	}
	return b.patchAround(out(x, grid.Area[0], grid.Area[2]), out(y, grid.Area[1], grid.Area[3]))
}

// middle is where the middle of a patch lies, in pixels of the full size.
func (b *patchSet) middle(t *patch) (x, y float64) {
	half := float64(b.tile-1) / 2
	return affine.FromLevel(b.level).Apply(float64(t.x)+half, float64(t.y)+half)
}

// patchAround is the patch of a set whose middle is nearest to a pixel of the full size.
func (b *patchSet) patchAround(x, y float64) *patch {
	p := b.key.levels[b.level]
	x, y = affine.ToLevel(b.level).Apply(x, y)
	half := float64(b.tile-1) / 2
	return &patch{x: min(max(int(math.Round(x-half)), 0), p.W-b.tile), y: min(max(int(math.Round(y-half)), 0), p.H-b.tile)}
}

// atFullSize is a place of a level in pixels of the full size. A coarse patch speaks for a
// large part of the picture, whose middle may lie off by other than the whole: it is
// believed the less for that.
func (f measured) atFullSize(level int) measured {
	size := math.Exp2(float64(level))
	f.x, f.y = affine.FromLevel(level).Apply(f.x, f.y)
	switch {
	case f.hx != 0 || f.hy != 0: // withHearts
	case f.patch != nil:
		f.hx, f.hy = affine.FromLevel(level).Apply(f.patch.heart())
	default:
		f.hx, f.hy = f.x, f.y
	}
	if f.patch != nil {
		f.side = size * float64(f.patch.q.w)
	}
	f.dx, f.dy = f.dx*size, f.dy*size
	const spans = 0.1 // pixels that it may lie off by, for each pixel that it spans more than one
	c := f.precision.Inverse()
	more := spans * spans * (size - 1) * (size - 1)
	c.XX, c.XY, c.YY = c.XX*size*size+more, c.XY*size*size, c.YY*size*size+more
	f.precision = c.Inverse()
	return f
}

// edgeLevel is the level on which the edges of the picture are measured.
func (p *pair) edgeLevel() int { return max(p.next.level-1, 0) }

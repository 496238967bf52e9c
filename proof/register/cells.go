package register

import (
	"context"
	"math"
	"slices"
	"sync"

	"threeply/proof/affine"
	"threeply/proof/survey"
	"threeply/proof/warp"
)

// detailed is where the key shows detail: its structure on a reduced plane.
type detailed struct {
	level, w, h int
	corners     corners
}

func newDetailed(key *pyramid) *detailed {
	l := key.levelFor(768)
	p := key.levels[l]
	return &detailed{level: l, w: p.W, h: p.H, corners: newCorners(edges(cutTones(p, key.tone, 0, 0, p.W, p.H)))}
}

// newGrid is the survey's cells over the key's picture.
func (g *keyPlate) newGrid() survey.Map {
	a, k := g.key.area, g.key.levels[0]
	return survey.New([4]int{
		max(int(math.Floor(a[0])), 0), max(int(math.Floor(a[1])), 0),
		min(int(math.Ceil(a[2]))+1, k.W), min(int(math.Ceil(a[3]))+1, k.H),
	}, cellsWanted)
}

// leastOfDetail is a twentieth of what the best tenth of the cells carries, as for the
// patches.
func (g *keyPlate) leastOfDetail() float64 {
	grid := g.newGrid()
	var sharps []float64
	for i := range len(grid.Cells) {
		sharps = append(sharps, g.sharpness(&grid, i))
	}
	slices.Sort(sharps)
	return 0.05*sharps[len(sharps)*9/10] + 1e-9
}

// sharpness is what the weaker direction of the key carries in a cell, 0 where it does
// not fit.
func (g *keyPlate) sharpness(grid *survey.Map, i int) float64 {
	d := g.details()
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	size := math.Exp2(float64(d.level))
	t := max(int(min(w, h)/size), 4)
	fx, fy := affine.ToLevel(d.level).Apply(x, y)
	px, py := min(max(int(fx)-t/2, 0), d.w-t), min(max(int(fy)-t/2, 0), d.h-t)
	if px < 0 || py < 0 {
		return 0
	}
	return d.corners.weaker(px, py, t)
}

// detail says whether the key shows something to measure by in a cell.
func (g *keyPlate) detail(grid *survey.Map, i int) bool {
	return g.sharpness(grid, i) >= g.leastDetail()
}

// apart is how far, in pixels of the full size, a part of the picture lies off at least
// that is said to lie elsewhere: what lies less far off is misregister like any other.
// Real plates that shrank a little unevenly lie off by up to two (figures of our own).
const apart = 2.5

// survey says of each cell what was measured there, by all places of a plate, at full
// size and measured from where m puts them. Those within tol agree. The map is as sure
// as fit says. Where the plate bends smoothly, that is taken off the places, and given to
// the cells afterwards: it is no doubt, and no part that lies elsewhere.
func (p *pair) survey(grid survey.Map, m affine.Matrix, fit *steadied, places []measured, gone []bool, tol float64) survey.Map {
	cells, asMeasured := []byte(grid.Cells), places
	bend := p.bendOf(places, tol)
	if bend.Worth() {
		places = slices.Clone(places)
		for i, f := range places {
			dx, dy := bend.At(f.x, f.y)
			places[i].dx, places[i].dy = f.dx-dx, f.dy-dy
		}
		tol = min(tol, max(nearby*math.Exp2(float64(p.next.level)), 3*bend.After.P95))
	} else {
		bend = warp.Local{}
	}
	grain := sync.OnceValue(func() float64 { return p.usualGrain(m, &grid) })
	means := make([]cellMean, len(cells))
	for i := range cells {
		near := within(&grid, i, places, speaksFor)
		x, y := grid.Centre(i)
		if len(near) > 0 {
			means[i] = offIn(x, y, &grid, near, tol)
		}
		dx, dy, off := means[i].dx, means[i].dy, means[i].within
		switch elsewhere := means[i].elsewhere(tol); {
		case gone[i] && !elsewhere && p.shows(m, &grid, i, grain()):
			cells[i] = survey.Unmatched
		case len(near) > 0:
			cells[i], grid.DX[i], grid.DY[i], grid.Within[i] = survey.Measured, dx, dy, off
			if elsewhere {
				cells[i] = survey.Elsewhere
			}
		case !p.other.has(m.Apply(x, y)):
			cells[i] = survey.Off
		case p.detail(&grid, i) && p.shows(m, &grid, i, grain()):
			cells[i] = survey.Unmatched
		}
	}
	grid.Cells = string(cells)
	for _, part := range partsOf(&grid, survey.Elsewhere) {
		if !breaksOff(&grid, part) {
			for _, i := range part {
				cells[i] = survey.Measured
			}
		}
	}
	grid.Cells = string(cells)
	widenByBend(&grid, means, tol)
	if bend.W != 0 {
		for i := range cells {
			if grid.Has(i) {
				dx, dy := bend.At(grid.Centre(i))
				grid.DX[i], grid.DY[i] = grid.DX[i]+dx, grid.DY[i]+dy
				grid.Within[i] = math.Hypot(math.Hypot(grid.Within[i], bend.After.Median), steepness(&grid, i, &bend))
			}
		}
	}
	for i := range cells {
		if grid.Has(i) {
			grid.Within[i] = alongToo(math.Hypot(grid.DX[i], grid.DY[i]), grid.Within[i])
		}
	}
	p.unmeasured(&grid, fit)
	outward(&grid, asMeasured)
	for i := range cells {
		grid.DX[i], grid.DY[i], grid.Within[i] = hundredths(grid.DX[i]), hundredths(grid.DY[i]), hundredths(grid.Within[i])
	}
	return grid
}

// alongToo widens a range to either side of a place that lies off by far: what it may be off
// besides adds to that in full where it lies in the same direction, and not as a right-angled
// side, as it does together with little.
func alongToo(off, within float64) float64 {
	const inPart = 0.35 // of the range: some of it lies in that direction
	longest := off + inPart*within
	return max(within, math.Sqrt(longest*longest-off*off))
}

// bendOf is the smooth displacement of the places that agree; it is none where they are too
// few.
func (p *pair) bendOf(places []measured, tol float64) warp.Local {
	var field []Offset
	for _, f := range places {
		if f.agrees(tol) {
			field = append(field, Offset{X: f.x, Y: f.y, DX: f.dx, DY: f.dy, Certainty: certainty(f), Error: standardError(f)})
		}
	}
	k := p.key.levels[0]
	if l, ok := Smooth(field, k.W, k.H); ok {
		return l
	}
	return warp.Local{}
}

func hundredths(v float64) float64 { return math.Round(100*v) / 100 }

// surveyed measures what was not measured yet, fits the map to all places once more,
// with what is usual of plates held against it, and says of each part of the picture
// what was measured there. c's places are in pixels of the full size afterwards.
func (p *pair) surveyed(ctx context.Context, c *candidate, g *matcher, tol float64, bent bool) survey.Map {
	const closely = 0.75 // pixels
	grid := p.newGrid()
	places := make([]measured, 0, len(c.patches))
	for _, f := range p.withHearts(g, c.m, c.patches) {
		places = append(places, f.atFullSize(g.level))
	}
	tol *= math.Exp2(float64(g.level))
	if bent {
		const further = 1.3 // film bends most at its edges, where no place was measured yet
		tol *= further
	}
	places, suspects := p.fillGaps(ctx, c, &grid, vouched(places, &grid, tol), tol)
	places = vouched(places, &grid, tol)
	var on []measured
	for _, f := range places {
		if f.agrees(tol) && certainty(f) >= certainFrom {
			on = append(on, f)
		}
	}
	if len(on) < fewPlaces {
		on = slices.DeleteFunc(slices.Clone(places), func(f measured) bool { return !f.agrees(tol) || certainty(f) < likelyFrom })
	}
	fit := steady(c.m, on, tol)
	if fit.ok && !bent {
		if m, moved, ok := movedTo(c.m, fit.move, places); ok {
			c.m, places = m, moved
		}
	}
	out := p.judged(grid, c, places, suspects, &fit, tol)
	if bent || Parted(&out) || !farOff(&out, max(tol, apart)) {
		return out
	}
	// A part that moved may have tilted the map, so that it lies well by it, and the rest does not:
	// it is held against the map that most places lie on closely.
	sure := slices.DeleteFunc(slices.Clone(places), func(f measured) bool { return certainty(f) < certainFrom })
	if move, ok := consensus(sure, closely, stiffLast); ok {
		two := candidate{vote: c.vote, look: c.look}
		if two.m, places, ok = movedTo(c.m, move, places); ok {
			if s := p.judged(p.newGrid(), &two, places, suspects, &fit, tol); Parted(&s) {
				*c = two
				return s
			}
		}
	}
	return out
}

// movedTo is a map moved, by a map between pixels of the key, and places given against it. ok is false
// where no scan of the same plate has such a map.
func movedTo(m, move affine.Matrix, places []measured) (affine.Matrix, []measured, bool) {
	back, whole := move.Inverse()
	if !whole || !plausible(m.Mul(move)) {
		return m, places, false
	}
	out := slices.Clone(places)
	for i, f := range out {
		x, y := back.Apply(f.x+f.dx, f.y+f.dy)
		out[i].dx, out[i].dy = x-f.x, y-f.y
	}
	return m.Mul(move), out, true
}

// farOff tells whether a cell was measured to lie off by more than some pixels.
func farOff(m *survey.Map, pixels float64) bool {
	for i := range m.Cells {
		if m.Has(i) && math.Hypot(m.DX[i], m.DY[i]) > pixels {
			return true
		}
	}
	return false
}

// judged says of each cell of a grid what was measured there by places of a map, c's: those that lie
// elsewhere alone are doubted. c holds the places then.
func (p *pair) judged(grid survey.Map, c *candidate, places []measured, suspects []int, fit *steadied, tol float64) survey.Map {
	places = slices.Clone(places)
	before := slices.Clone(places)
	for i, f := range before {
		places[i].alone = f.settled && !f.agrees(tol) && !f.hasCompanions(before, &grid, max(tol, nearby)) && (p.ruled() || !f.hasEchoes(before, &grid)) ||
			f.settled && !f.agrees(tol) && !f.hasWitnesses(before, &grid)
	}
	places = doubtEquals(places, &grid)
	c.patches = places
	gone := p.gone(c.m, &grid, p.edgeLevel(), places, suspects)
	return p.survey(grid, c.m, fit, places, gone, tol)
}

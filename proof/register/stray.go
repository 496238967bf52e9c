package register

import (
	"cmp"
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/linear"
	"threeply/proof/warp"
)

// sure is the certainty from which a place counts as measured. Noise and bare
// ground seldom come above 0.4 (figures of our own, of real separations).
const sure = 0.5

// strained says whether the places leave so much that the picture is to be looked at
// for having bent: more than a few of them are outvoted, or one in twenty is nearly.
func strained(patches []found, tol float64) bool {
	var sizes []float64
	for _, f := range patches {
		if certainty(f) >= sure {
			sizes = append(sizes, math.Hypot(f.dx, f.dy))
		}
	}
	return warp.Summary(sizes).P95 > 0.6*tol
}

// likely is the certainty from which a place counts where its neighbours say the
// same.
const likely = 0.2

// Sure says whether the place was measured with certainty.
func (o Offset) Sure() bool { return o.Certainty >= sure }

// agrees says whether a patch was measured and lies within tol of the map.
func (f found) agrees(tol float64) bool { return f.settled && math.Hypot(f.dx, f.dy) <= tol }

// outvoted is the share of the patches measured with certainty that lie
// elsewhere than the map says, 0..1. Where those are few, all that agree count too.
func outvoted(patches []found, tol float64) float64 {
	var certain, agreed, off float64
	for _, f := range patches {
		is := certainty(f) >= sure
		if is {
			certain++
		}
		switch {
		case f.agrees(tol):
			agreed++
		case is:
			off++
		}
	}
	if certain < few {
		certain = agreed + off
	}
	return off / max(certain, 1)
}

// seek looks further for the patches that were not measured with certainty: where a
// wide search on a reduced plane shows their surroundings lie.
func (p *pair) seek(ctx context.Context, c candidate, g *gauge) candidate {
	seen := p.strays(ctx, c, g)
	if len(seen) == 0 {
		return c
	}
	c.patches = slices.Clone(c.patches)
	for i, f := range c.patches {
		if certainty(f) >= sure || ctx.Err() != nil {
			continue
		}
		near := slices.MinFunc(seen, func(a, b found) int { return cmp.Compare(a.from(f), b.from(f)) })
		there := p.look(c.m, g, f.of, near.dx, near.dy)
		there.unique = min(there.unique, near.unique)
		c.patches[i] = better(f, there)
	}
	return c
}

// strays are the patches, in pixels of g's level, that a search of 40 pixels of a
// reduced plane finds beyond the reach of g, of those that were not measured with
// certainty. One alone is no evidence: a neighbour must say the same. There are none
// where nearly all were measured.
func (p *pair) strays(ctx context.Context, c candidate, g *gauge) []found {
	const most = 12 // one in so many may be unknown
	var unknown []found
	for _, f := range c.patches {
		if certainty(f) < sure {
			unknown = append(unknown, f)
		}
	}
	if most*len(unknown) < len(c.patches) {
		return nil
	}
	level := max(p.next.level-1, min(p.next.level, 1))
	far := newGauge(p.next.wider(level, 128))
	far.least = 0.3 // at an edge half of so wide a search lies off the picture
	size, plane := math.Exp2(float64(level-g.level)), p.key.levels[level]
	if min(plane.W, plane.H) < far.tile {
		return nil
	}
	var seen []found
	for _, u := range unknown {
		if ctx.Err() != nil {
			return nil
		}
		half := float64(far.tile-1) / 2
		x, y := affine.ToLevel(level).Mul(affine.FromLevel(g.level)).Apply(u.x, u.y)
		t := &template{sharp: u.sharp, x: min(max(int(math.Round(x-half)), 0), plane.W-far.tile), y: min(max(int(math.Round(y-half)), 0), plane.H-far.tile)}
		f, ok := far.find(p.other, c.m, t)
		f.x, f.y, f.dx, f.dy = u.x, u.y, size*f.dx, size*f.dy
		if ok && certainty(f) >= sure && math.Hypot(f.dx, f.dy) > 0.6*float64(g.reach) {
			seen = append(seen, f)
		}
	}
	return slices.DeleteFunc(slices.Clone(seen), func(f found) bool { return !f.backed(seen, 4*far.across(g), 2*size) })
}

// backed says whether a neighbour within reach, which shares no more than half of the
// patch, lies elsewhere by the same offset to within tol.
func (f found) backed(all []found, reach, tol float64) bool {
	return slices.ContainsFunc(all, func(o found) bool {
		d := o.from(f)
		return d > reach/6 && d < reach && certainty(o) >= likely && math.Hypot(o.dx-f.dx, o.dy-f.dy) < tol
	})
}

// weigh halves the certainty of those that lie elsewhere alone: a speck of dust beside
// another one, or noise.
func weigh(patches []found, g *gauge, tol float64) []found {
	out := slices.Clone(patches)
	for i, f := range out {
		out[i].alone = f.settled && !f.agrees(tol) && !f.backed(patches, 3*g.across(g), tol)
	}
	return out
}

// from is the distance between two patches.
func (f found) from(o found) float64 { return math.Hypot(f.x-o.x, f.y-o.y) }

// across is the side of a patch of b in pixels of g's level.
func (b *bed) across(g *gauge) float64 {
	return float64(b.tile) * math.Exp2(float64(b.level-g.level))
}

// look searches for a patch around (dx, dy), pixels of the level, from where m
// puts it.
func (p *pair) look(m affine.Matrix, g *gauge, t *template, dx, dy float64) found {
	there := m.Mul(affine.FromLevel(g.level)).Mul(affine.Translate(dx, dy)).Mul(affine.ToLevel(g.level))
	f, ok := g.find(p.other, there, t)
	if !ok || !f.settled {
		return found{}
	}
	if again := g.nudge(p.other, there, f); again.settled {
		f = again
	}
	f.dx, f.dy = f.dx+dx, f.dy+dy
	return f
}

// better is whichever of two measures of a patch is more certain.
func better(f, other found) found {
	if other.settled && certainty(other) > certainty(f) {
		return other
	}
	return f
}

// bend fits the map to the whole picture where the patches lie on one smooth
// sheet that is curved, as on film that shrank unevenly, and not only to the part of
// it that the map was found by. far is the tolerance within which a patch lies on that sheet,
// no less than tol; ok is false where there is none.
func (p *pair) bend(ctx context.Context, c candidate, g *gauge, tol float64) (on candidate, far float64, ok bool) {
	on = c
	for round := range 3 {
		sheet := sheetOf(on.patches)
		if len(sheet) < few {
			return c, tol, false
		}
		move, fits := wholeFit(sheet)
		if on, ok = p.moved(on, move, g.bed); !fits || !ok {
			return c, tol, false
		}
		for i, f := range on.patches {
			switch {
			case ctx.Err() != nil:
				return c, tol, false
			case certainty(f) < sure && round == 0:
				on.patches[i] = better(f, p.look(on.m, g, f.of, 0, 0))
			case f.settled:
				if f = g.nudge(p.other, on.m, f); f.settled {
					on.patches[i] = f
				}
			}
		}
	}
	sheet := sheetOf(on.patches)
	if !p.curved(sheet, g.level) {
		return c, tol, false
	}
	far = tol
	for _, f := range sheet {
		far = max(far, 1.05*math.Hypot(f.dx, f.dy))
	}
	return on, far, true
}

// curved says whether a smooth displacement explains what a sheet's patches leave, at
// patches that it had not seen. Noise makes a sheet too, and is not explained.
func (p *pair) curved(sheet []found, level int) bool {
	const explained = 0.8
	field := make([]Offset, len(sheet))
	for i, f := range sheet {
		field[i] = Offset{X: f.x, Y: f.y, DX: f.dx, DY: f.dy, Certainty: certainty(f)}
	}
	k := p.key.levels[level]
	l, ok := Smooth(field, k.W, k.H)
	return ok && l.After.Median <= explained*l.Before.Median
}

// wholeFit is the affine map through all patches of a sheet, each of which counts
// alike: what they leave is the film's, not their noise. Tukey's biweight, wider
// than they lie apart, holds off what moved.
func wholeFit(on []found) (m affine.Matrix, ok bool) {
	even := slices.Clone(on)
	for i := range even {
		even[i].info = linear.Symmetric{XX: 1, YY: 1}
	}
	if m, ok = solve(even, nil); !ok {
		return m, false
	}
	left, weights := make([]float64, len(even)), make([]float64, len(even))
	for range 5 {
		for i, f := range even {
			left[i] = miss(m, f)
		}
		limit := max(2*biweight*middle(left), 0.2)
		for i, e := range left {
			u := min(e/limit, 1)
			weights[i] = (1 - u*u) * (1 - u*u)
		}
		next, fits := solve(even, weights)
		if !fits {
			break
		}
		m = next
	}
	return m, true
}

// sheetOf gives the patches, of those that are likely, that lie on the
// largest smooth sheet: each is linked with its neighbours where their offsets
// differ by no more than four times what neighbours here do at the median, nor by
// more than a twenty-fifth of their distance. It is nil where that sheet holds
// less than two thirds of them. A picture of which a part moved has two sheets.
func sheetOf(patches []found) []found {
	const links = 6
	var live []found
	for _, f := range patches {
		if certainty(f) >= likely {
			live = append(live, f)
		}
	}
	apart := func(i, j int) float64 { return math.Hypot(live[i].x-live[j].x, live[i].y-live[j].y) }
	differ := func(i, j int) float64 { return math.Hypot(live[i].dx-live[j].dx, live[i].dy-live[j].dy) }
	var pairs [][2]int
	var strains []float64
	for i := range live {
		var order []int
		for j := range live {
			if j != i && apart(i, j) > 0 {
				order = append(order, j)
			}
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Compare(apart(i, a), apart(i, b)) })
		for _, j := range order[:min(links, len(order))] {
			pairs = append(pairs, [2]int{i, j})
			strains = append(strains, differ(i, j)/apart(i, j))
		}
	}
	if len(pairs) == 0 {
		return nil
	}
	usual := min(4*middle(strains), 0.04)
	of := make([]int, len(live)) // the sheet of each
	for i := range of {
		of[i] = i
	}
	for _, l := range pairs {
		if i, j := l[0], l[1]; of[i] != of[j] && differ(i, j) <= 0.5+usual*apart(i, j) {
			from, to := of[j], of[i]
			for k := range of {
				if of[k] == from {
					of[k] = to
				}
			}
		}
	}
	count := make([]int, len(live))
	for _, k := range of {
		count[k]++
	}
	largest := slices.Index(count, slices.Max(count))
	if 3*count[largest] < 2*len(live) {
		return nil
	}
	var on []found
	for i, f := range live {
		if of[i] == largest {
			on = append(on, f)
		}
	}
	return on
}

package register

import (
	"cmp"
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/survey"
)

// A picture of lines, as an engraving or a textile, fits itself again a line or a few further
// on. What is measured there may lie a whole number of lines off, and only what lies around
// tells, or a slight difference of how well it fits.

// repeatsFrom is how well half of a ruled picture's patches fit it again a few pixels further
// on. Photographs and real plates came to 0.27 at most, photographs drawn as lines to 0.45 and
// more, when it was set; on seeds 46 to 48 of the sweeps, by which it was judged, 120 cuts of
// photographs came to 0.25 at most, and drawn as lines to 0.47 and more (figures of our own).
const repeatsFrom = 0.36

// findRuled says whether most of what the key shows repeats itself so: by patches all over it,
// at full size, each looked for in the key itself.
func (g *keyPlate) findRuled() bool {
	const judges, side, transform = 15, 32, 64
	b := &patchSet{key: g.key}
	b.setTransform(transform)
	b.setTile(side)
	m := newMatcher(b)
	if p := g.key.levels[0]; min(p.W, p.H) < side {
		return false
	}
	var patches []*patch
	for i := range judges {
		k := i * len(g.next.patches) / judges
		if k >= len(g.next.patches) {
			break
		}
		patches = append(patches, b.patchAround(g.next.middle(g.next.patches[k])))
	}
	m.expect(g.key, affine.Identity, patches)
	var again []float64
	for _, t := range patches {
		if _, ok := m.find(g.key, affine.Identity, t); ok {
			again = append(again, fitsAgain(m.score, m.reach))
		}
	}
	return len(again) > judges/3 && median(again) >= repeatsFrom
}

// fitsAgain is the best score of all that lie, seen from the middle of a search, behind ones
// that are clearly worse.
func fitsAgain(score []float64, reach int) float64 {
	const ways, worse = 32, 0.25
	best := 0.0
	for i := range ways {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / ways)
		least := score[reach*(2*reach+1)+reach]
		for r := 1; r <= reach; r++ {
			x, y := reach+int(math.Round(float64(r)*cos)), reach+int(math.Round(float64(r)*sin))
			v := score[y*(2*reach+1)+x]
			least = min(least, v)
			if v-least >= worse {
				best = max(best, v)
			}
		}
	}
	return best
}

// rival says how well a patch fits elsewhere, against where the map puts it.
type rival int

const (
	noRival     rival = iota // nowhere as well, or it was not looked for
	equalRival               // about as well, or better by little
	betterRival              // clearly better, and well
)

// doubtRivals looks for the patches of a ruled picture, of g's level, within 40 pixels of
// where m puts them, and makes uncertain those that lie there, to within tol, though they fit
// clearly better elsewhere: what moved by a whole number of lines fits where it was too. It tells of
// each where it would rather lie.
func (p *pair) doubtRivals(ctx context.Context, g *matcher, m affine.Matrix, places []measured, tol float64) []measured {
	if !p.ruled() {
		return places
	}
	const (
		transform, side = 128, 48
		alone           = 0.05 // lead over all other places from which a patch has no rival
		well            = 0.6  // score
	)
	b := &patchSet{key: p.key, level: g.level}
	b.setTransform(transform)
	b.setTile(side)
	wide := newMatcher(b)
	wide.least = atEdges
	out := slices.Clone(places)
	p.crew.each(wide, len(out), func(wide *matcher, i int) {
		f := &out[i]
		if ctx.Err() != nil || !f.settled {
			return
		}
		x, y := affine.FromLevel(g.level).Apply(f.x, f.y)
		o, ok := wide.find(p.other, m, b.patchAround(x, y))
		switch clearly := o.score >= o.home+better; {
		case !ok:
		case clearly && f.agrees(tol):
			f.unique = 0
			fallthrough
		case clearly:
			if o.score >= well {
				f.rival = betterRival
			}
		case o.unique < alone:
			f.rival = equalRival
		}
		if ok && o.settled && o.score >= well {
			f.rather = p.rather(wide, m, *f, o)
		}
	})
	return out
}

// elected lists the places of a ruled picture, of patches that were searched for, at which patches near
// by fit best by the same shift, each by itself, and better than where the map puts them.
func elected(all []searched, grid *survey.Map, tol float64) []measured {
	const well = 0.6 // score
	var voters []measured
	same := 0.0
	for _, f := range all {
		if f.settled && f.score >= well && f.score > f.home && math.Hypot(f.dx, f.dy) > tol {
			voters = append(voters, f.measured)
		}
		same = math.Exp2(float64(f.level))
	}
	return elect(voters, grid, same)
}

// withElected is all places of a ruled picture, those that would rather lie elsewhere, as others near by,
// there. The dropped ones, which are not needed or lie nowhere for certain, have a say too.
func withElected(all, dropped []measured, grid *survey.Map) []measured {
	const same = 1 // pixels
	var voters []measured
	for _, f := range slices.Concat(all, dropped) {
		if f.rather != nil {
			voters = append(voters, *f.rather)
		}
	}
	won := elect(voters, grid, same)
	if won == nil {
		return all
	}
	lies := func(f measured) bool {
		return f.rather != nil && slices.ContainsFunc(won, func(o measured) bool { return o.x == f.rather.x && o.y == f.rather.y })
	}
	return append(slices.DeleteFunc(slices.Clone(all), lies), won...)
}

// elect are those of some places, at which patches fit best, that lie off by the same as others near by.
// Every patch of a ruled picture fits nearly as well in many places, whole lines apart, and chance
// decides where best; it does not decide alike for five, and a third of those near by.
func elect(voters []measured, grid *survey.Map, same float64) (won []measured) {
	const (
		near   = 3 // cells to the neighbours
		fewest = 5 // of a shift, half a cell apart
		share  = 3 // one in so many of those near by
	)
	w, h := grid.Sides()
	for _, f := range voters {
		var with []measured
		around := 0
		for _, o := range voters {
			if math.Hypot((o.x-f.x)/w, (o.y-f.y)/h) > near {
				continue
			}
			around++
			if math.Hypot(o.dx-f.dx, o.dy-f.dy) <= same {
				with = append(with, o)
			}
		}
		if share*len(with) >= around && len(apartFrom(with, 0.5*min(w, h))) >= fewest {
			f.vouched, f.elected, f.rival = true, true, betterRival
			won = append(won, f)
		}
	}
	return won
}

// rather is the place o, at full size, where a patch of a matcher was found in a wide search, if that is
// not where m puts it, and it fits better there than anywhere near by: where f lies, if f agrees with m.
func (p *pair) rather(g *matcher, m affine.Matrix, f, o measured) *measured {
	const (
		better = 0.003 // score: by less chance decides
		steps  = 2     // of Gauss and Newton, to where it fits best near by
	)
	here := o
	if here.dx, here.dy = 0, 0; f.agrees(nearby) {
		here.dx, here.dy = f.dx, f.dy
	}
	for range steps {
		here = g.nudge(p.other, m, here)
	}
	there := g.nudge(p.other, m, o)
	if !there.settled || there.agrees(nearby) || there.score < g.nudge(p.other, m, here).score+better {
		return nil
	}
	there = p.withHearts(g, m, []measured{there})[0]
	there.x, there.y = there.patch.heart()
	there = there.atFullSize(g.level)
	return &there
}

// doubtEquals makes uncertain the places of a ruled picture that fit about as well elsewhere,
// where most of the nearest places that tell are better off elsewhere: only what lies around
// tells where such a place is.
func doubtEquals(places []measured, grid *survey.Map) []measured {
	const nearest, farthest = 3, 2 // places; cells
	var telling []measured
	for _, f := range places {
		if f.rival == betterRival || f.rival == noRival && certainty(f) >= certainFrom {
			telling = append(telling, f)
		}
	}
	out := slices.Clone(places)
	w, h := grid.Sides()
	for i, f := range places {
		if f.rival != equalRival {
			continue
		}
		apart := func(o measured) float64 { return math.Hypot((o.x-f.x)/w, (o.y-f.y)/h) }
		slices.SortFunc(telling, func(a, b measured) int { return cmp.Compare(apart(a), apart(b)) })
		elsewhere := 0
		for _, o := range telling[:min(nearest, len(telling))] {
			if o.rival == betterRival && apart(o) <= farthest {
				elsewhere++
			}
		}
		if 2*elsewhere > nearest {
			out[i].unique = 0
		}
	}
	return out
}

// refuted tells whether a place near a cell of a ruled picture fits clearly better elsewhere.
// On a coarser plane its lines run together, and would fit where it is not.
func refuted(grid *survey.Map, i int, places []measured) bool {
	const near = 1 // cells
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	return slices.ContainsFunc(places, func(f measured) bool {
		return f.rival == betterRival && math.Hypot((f.x-x)/w, (f.y-y)/h) <= near
	})
}

// rivalsReach is how far a part of a ruled picture that shows detail, and was not found, may
// lie off at least, in pixels of the full size: it was looked for so far, and fits in several
// places there.
func (p *pair) rivalsReach() float64 {
	if !p.ruled() {
		return 0
	}
	return float64(p.next.reach) * math.Exp2(float64(p.next.level))
}

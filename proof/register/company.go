package register

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/survey"
)

// hasCompanions says whether more places within two cells lie off by the same, to within tol:
// two, or one, where neither fits half as well where the map puts it, and both show parts of
// the picture that hardly overlap.
func (f measured) hasCompanions(all []measured, grid *survey.Map, tol float64) bool {
	const aside = 0.5 // sides of the larger patch: less than a third of what counts of it lies in both
	with := f.companions(all, grid, tol)
	if len(with) != 1 {
		return len(with) >= 2
	}
	o := with[0]
	return f.plain() && o.plain() && math.Hypot(o.hx-f.hx, o.hy-f.hy) >= aside*max(f.side, o.side)
}

// hasEchoes says whether two certain places more, further away than companions are, lie off by
// the same as f: of a strip along an edge that shows little, few places are found, far between.
// By chance, hardly three agree so closely.
func (f measured) hasEchoes(all []measured, grid *survey.Map) bool {
	const same, nearest, farthest, enough = 0.5, 0.75, 6, 3 // pixels; cells; places, f among them
	w, h := grid.Sides()
	with := []measured{f}
	for _, o := range all {
		d := math.Hypot((o.hx-f.hx)/w, (o.hy-f.hy)/h)
		if d >= nearest && d <= farthest && certainty(o) >= certainFrom && o.score >= o.home && math.Hypot(o.dx-f.dx, o.dy-f.dy) <= same {
			with = append(with, o)
		}
	}
	return certainty(f) >= certainFrom && len(apartFrom(with, nearest*min(w, h))) >= enough
}

// hasWitnesses says whether what lies off by the same as f rests on two places at least that are
// certain by themselves, and show parts of the picture that hardly overlap, where neighbours had
// to vouch for others. Of 120 sets in which a part moved (seeds 49 and 70 to 72 of the sweeps) all
// that were found had two; of plates that only bend the false parts had one, a speck of dust
// (figures of our own).
func (f measured) hasWitnesses(all []measured, grid *survey.Map) bool {
	const same, aside, enough = 3, 0.75, 2 // pixels; cells; places
	w, h := grid.Sides()
	vouched := false
	var sure []measured
	for _, o := range all {
		if !o.settled || math.Hypot(o.dx-f.dx, o.dy-f.dy) > same {
			continue
		}
		byItself := o
		byItself.vouched = false
		if certainty(byItself) >= certainFrom {
			sure = append(sure, o)
		}
		vouched = vouched || o.vouched
	}
	return f.elected || !vouched || len(apartFrom(sure, aside*min(w, h))) >= enough
}

// withHearts tells places of g's level that lie elsewhere where m put them the middle of what both
// plates show of them there. Else two patches that hold the same speck of dust, each in another corner,
// would pass for two witnesses by all that they hold besides: grain, and what the key alone shows.
func (p *pair) withHearts(g *matcher, m affine.Matrix, places []measured) []measured {
	out := slices.Clone(places)
	for i, f := range out {
		if f.settled && f.patch != nil && !f.agrees(nearby) {
			x, y := g.shared(p.other, m, f)
			out[i].hx, out[i].hy = affine.FromLevel(g.level).Apply(x, y)
		}
	}
	return out
}

// shared is the middle of what a patch and the plate have in common where the patch was found,
// measured from where m puts it: of the products of both edge fields. It is in pixels of the level.
func (g *matcher) shared(other *pyramid, m affine.Matrix, f measured) (x, y float64) {
	v, stride := g.under(other, m, f)
	t, mean := f.patch, g.mean(v, stride)
	var all, sx, sy float64
	for j, cy := range g.taper {
		for i, cx := range g.taper {
			k, q := t.q.v[j*g.tile+i], v[j*stride+i]-mean
			w := float64(cx * cy * (real(k)*real(q) + imag(k)*imag(q)))
			all, sx, sy = all+w, sx+w*float64(i), sy+w*float64(j)
		}
	}
	if all <= 0 {
		return t.heart()
	}
	within := func(v float64) float64 { return min(max(v, 0), float64(g.tile-1)) }
	return float64(t.x) + within(sx/all), float64(t.y) + within(sy/all)
}

// plain tells whether a place is certain, and the patch fits nowhere near as well where the
// map puts it.
func (f measured) plain() bool { return certainty(f) >= certainFrom && 2*f.home <= f.score }

// companions are the places within two cells, and half a cell from each other, that lie off
// by the same as f, to within tol, and fit better so than where the map puts them, the surest
// first. They need not be certain: of places that were found by chance hardly two agree.
func (f measured) companions(all []measured, grid *survey.Map, tol float64) []measured {
	const least, nearest, farthest = 0.3, 0.5, 2.3 // score; cells, for two that show the same speck are one witness
	w, h := grid.Sides()
	var with []measured
	for _, o := range all {
		d := math.Hypot((o.hx-f.hx)/w, (o.hy-f.hy)/h)
		if d >= nearest && d <= farthest && o.settled && o.score >= max(least, o.home) && math.Hypot(o.dx-f.dx, o.dy-f.dy) <= tol {
			with = append(with, o)
		}
	}
	slices.SortStableFunc(with, func(a, b measured) int { return cmp.Compare(certainty(b), certainty(a)) })
	return apartFrom(with, nearest*min(w, h))
}

// better is by how much of its score a patch fits better elsewhere than where the map puts
// it, for its neighbours to vouch for it: what repeats itself fits in both.
const better = 0.1

// vouched makes places unique that lie elsewhere together: each fits in more than one
// place, as what is blurred does, but hardly all of them in the same wrong one. The
// equals of a ruled picture do, and are left as they are.
func vouched(places []measured, grid *survey.Map, tol float64) []measured {
	const enough = 3
	out := slices.Clone(places)
	for i, f := range out {
		if f.settled && f.unique < uniqueEnough && f.rival != equalRival && !f.agrees(tol) && f.score >= f.home+better && len(f.companions(places, grid, nearby)) >= enough {
			out[i].unique = uniqueEnough
		}
	}
	return out
}

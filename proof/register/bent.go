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

// mayBeBent says whether the certain patches lie off by so much that the film may be
// bent: one in twenty by more than six tenths of what still agrees.
func mayBeBent(patches []measured, tol float64) bool {
	var sizes []float64
	for _, f := range patches {
		if certainty(f) >= certainFrom {
			sizes = append(sizes, math.Hypot(f.dx, f.dy))
		}
	}
	return warp.Summary(sizes).P95 > 0.6*tol
}

// inTwo says whether the certain patches lie in two places, as those of a plate of which a
// part moved do, and hardly any between, as those of bent film must.
func inTwo(patches []measured, tol float64) bool {
	const (
		still   = 0.5  // pixels from the map, or
		share   = 0.2  // of how far the part lies off, for blurred patches lie less exactly
		fewest  = 4    // patches of a part
		alike   = 0.7  // share of a part that lies off by the same
		between = 0.12 // share of all that may lie between
	)
	var dx, dy []float64 // of those that lie elsewhere
	var agree []float64  // how far the others lie off
	for _, f := range patches {
		if certainty(f) < certainFrom {
			continue
		}
		if d := math.Hypot(f.dx, f.dy); d > tol {
			dx, dy = append(dx, f.dx), append(dy, f.dy)
		} else {
			agree = append(agree, d)
		}
	}
	if len(dx) < fewest {
		return false
	}
	mx, my := median(dx), median(dy)
	size := math.Hypot(mx, my)
	together, amid := 0, 0
	for i := range dx {
		if math.Hypot(dx[i]-mx, dy[i]-my) <= 0.25*size+still/2 {
			together++
		}
	}
	for _, d := range agree {
		if d > max(still, share*size) {
			amid++
		}
	}
	return float64(together) >= alike*float64(len(dx)) && float64(amid) <= between*float64(len(dx)+len(agree))
}

// asTwo is c by the map that most of its certain patches lie on to within half a pixel, if the
// others then lie elsewhere, as a part that moved does: by little, it tilts a map that all patches
// have a say in, and both would look like one that bends.
func (p *pair) asTwo(c candidate, g *matcher, tol float64) (two candidate, ok bool) {
	const closely, most = 0.5, 0.5 // pixels; share of the certain patches
	var sure []measured
	for _, f := range c.patches {
		if certainty(f) >= certainFrom {
			sure = append(sure, f)
		}
	}
	move, ok := consensus(sure, closely, stiffLast)
	if !ok {
		return c, false
	}
	if two, ok = p.moved(c, move, g.patchSet); !ok {
		return c, false
	}
	agree := 0
	for _, f := range two.patches {
		if certainty(f) >= certainFrom && f.agrees(closely) {
			agree++
		}
	}
	return two, float64(agree) >= most*float64(len(sure)) && inTwo(two.patches, tol)
}

// fitBent is for film that shrank unevenly, whose patches lie off by an amount that
// changes smoothly over the picture: it fits the map to all of them, and not only to
// the part of the picture that the map was found by. far is how far such a patch lies
// off its map, no less than tol; ok is false where the film is not bent.
func (p *pair) fitBent(ctx context.Context, c candidate, g *matcher, tol float64) (on candidate, far float64, ok bool) {
	on = c
	for round := range 3 {
		smooth := largestSmoothGroup(on.patches)
		if len(smooth) < fewPlaces {
			return c, tol, false
		}
		move, fits := fitAllAlike(smooth)
		if on, ok = p.moved(on, move, g.patchSet); !fits || !ok {
			return c, tol, false
		}
		p.crew.each(g, len(on.patches), func(g *matcher, i int) {
			f := on.patches[i]
			switch {
			case ctx.Err() != nil:
			case certainty(f) < certainFrom && round == 0:
				on.patches[i] = moreCertain(f, p.measureAround(on.m, g, f.patch, 0, 0))
			case f.settled:
				if f = g.nudge(p.other, on.m, f); f.settled {
					on.patches[i] = f
				}
			}
		})
		if ctx.Err() != nil {
			return c, tol, false
		}
	}
	smooth := largestSmoothGroup(on.patches)
	if !p.curved(smooth, g.level) {
		return c, tol, false
	}
	far = tol
	for _, f := range smooth {
		far = max(far, 1.05*math.Hypot(f.dx, f.dy))
	}
	return on, far, true
}

// curved says whether a smooth displacement explains by how much patches lie off: at
// patches that it was not fitted to it leaves at most four fifths. Noise, however
// smooth it looks, is not explained so.
func (p *pair) curved(smooth []measured, level int) bool {
	const explained = 0.8
	field := make([]Offset, len(smooth))
	for i, f := range smooth {
		field[i] = Offset{X: f.x, Y: f.y, DX: f.dx, DY: f.dy, Certainty: certainty(f)}
	}
	k := p.key.levels[level]
	l, ok := Smooth(field, k.W, k.H)
	return ok && l.After.Median <= explained*l.Before.Median
}

// fitAllAlike is the affine map through patches of which each counts alike, however
// sharp it is: what they leave is the film's bend, not their noise. Tukey's biweight,
// wider than they lie off, keeps out what moved.
func fitAllAlike(on []measured) (m affine.Matrix, ok bool) {
	even := slices.Clone(on)
	for i := range even {
		even[i].precision = linear.Symmetric{XX: 1, YY: 1}
	}
	if m, ok = solve(even, nil); !ok {
		return m, false
	}
	left, weights := make([]float64, len(even)), make([]float64, len(even))
	for range 5 {
		for i, f := range even {
			left[i] = miss(m, f)
		}
		limit := max(2*biweight*median(left), 0.2)
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

// largestSmoothGroup gives the largest group of patches, of those that are likely,
// whose offsets change smoothly from each to its neighbours. Neighbours belong together
// where their offsets differ by no more than half a pixel and four times what is usual
// here for their distance, nor by more than a twenty-fifth of it. It is nil where the
// group holds less than two thirds of the likely patches: a picture of which a part
// moved falls in two.
func largestSmoothGroup(patches []measured) []measured {
	const (
		links   = 6    // neighbours of each
		slack   = 0.5  // pixels by which two neighbours may always differ
		usually = 4    // times the median change
		most    = 0.04 // change of an offset over a distance, at most
	)
	var live []measured
	for _, f := range patches {
		if certainty(f) >= likelyFrom {
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
	usual := min(usually*median(strains), most)
	of := make([]int, len(live)) // the group of each
	for i := range of {
		of[i] = i
	}
	for _, l := range pairs {
		if i, j := l[0], l[1]; of[i] != of[j] && differ(i, j) <= slack+usual*apart(i, j) {
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
	var on []measured
	for i, f := range live {
		if of[i] == largest {
			on = append(on, f)
		}
	}
	return on
}

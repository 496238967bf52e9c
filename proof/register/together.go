package register

import (
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/linear"
	"threeply/proof/survey"
)

// searched is a patch that was looked for in a wide search, where it fits best by itself, in
// pixels of the full size, and how well it fits everywhere.
type searched struct {
	measured
	*patchSet
	fits  []float64    // the scores of all whole shifts, 2·reach+1 to the row
	moved [][4]float64 // see patchSet.moved, by pixels beyond peakRadius
	still bool         // it fits nowhere much better than where the map puts it
}

// searched looks for patches where m puts them, as far as g searches, and appends them to
// those that were searched for before, but for those that lie on one of them.
func (p *pair) searched(ctx context.Context, g *matcher, m affine.Matrix, patches []*patch, out []searched) []searched {
	from := len(out)
	for _, t := range patches {
		if g.canSearch(p.other, m, t) && !slices.ContainsFunc(out, func(o searched) bool {
			return max(t.x-o.patch.x, o.patch.x-t.x, t.y-o.patch.y, o.patch.y-t.y) < g.tile/2
		}) {
			out = append(out, searched{patchSet: g.patchSet, measured: measured{patch: t}})
		}
	}
	p.crew.each(g, len(out)-from, func(g *matcher, i int) {
		s := &out[from+i]
		t := s.patch
		if ctx.Err() != nil {
			return
		}
		f, _ := g.find(p.other, m, t)
		s.fits, s.still = slices.Clone(g.score), f.home >= 0.9*slices.Max(g.score)
		if again := g.nudge(p.other, m, f); f.settled && again.settled {
			f = again
		}
		f = p.withHearts(g, m, []measured{f})[0]
		f.x, f.y = t.heart()
		s.measured = f.atFullSize(g.level)
	})
	if ctx.Err() != nil {
		return out[:from]
	}
	return out
}

// together lists the places, of patches that were searched for, which neighbours lie off
// with by the same: patches that were found with certainty each, and those that tell of
// one shift only when what fits them is added up. By itself a narrow or a faint one fits in
// many places; the neighbours, each in many others, leave the one that all share.
func together(all []searched, grid *survey.Map, tol float64) []measured {
	const (
		near   = 3 // cells to the neighbours that are added up
		fewest = 3 // patches of a shift
	)
	w, h := grid.Sides()
	places := placesOf(all)
	taken := make([]bool, len(all))
	var out []measured
	for i, f := range all {
		if certainty(f.measured) >= certainFrom && f.hasCompanions(places, grid, tol) {
			out = append(out, f.measured)
			taken[i] = true
		}
	}
	for _, f := range all {
		if f.still {
			continue
		}
		side := 2*f.reach + 1
		sum := make([]float64, side*side)
		var around []int
		for j, o := range all {
			if math.Hypot((o.x-f.x)/w, (o.y-f.y)/h) > near || o.still {
				continue
			}
			around = append(around, j)
			for k, v := range o.fits {
				sum[k] += v
			}
		}
		blank(sum, f.reach) // some of them lie where the map puts them
		at := highest(sum)
		dx, dy := at%side-f.reach, at/side-f.reach
		if max(dx, -dx, dy, -dy) >= f.reach || len(around) < fewest {
			continue
		}
		l := lead(sum, f.reach, at, peakRadius)
		if l < uniqueEnough {
			l = lead(sum, f.reach, at, lobe(all, around))
		}
		if l < uniqueEnough {
			continue
		}
		var on []measured
		var who []int
		for _, j := range around {
			if o := all[j]; o.nearest(dx, dy) >= o.nearest(0, 0)+better {
				on, who = append(on, o.lying(dx, dy)), append(who, j)
			}
		}
		if len(apartFrom(on, 0.5*min(w, h))) < fewest {
			continue
		}
		for k, j := range who {
			if !taken[j] {
				taken[j] = true
				out = append(out, on[k])
			}
		}
	}
	return out
}

func placesOf(all []searched) (places []measured) {
	for _, f := range all {
		places = append(places, f.measured)
	}
	return places
}

// lobe is how far some of the patches resemble themselves when all are moved together, pixels
// of the level.
func lobe(all []searched, some []int) int {
	reach := all[some[0]].reach
	for r := peakRadius; r <= reach; r++ {
		var sum [4]float64
		for _, j := range some {
			s := &all[j]
			if len(s.moved) <= r-peakRadius {
				s.moved = append(s.moved, s.patchSet.moved(s.patch, r))
			}
			for i, v := range s.moved[r-peakRadius] {
				sum[i] += v
			}
		}
		if slices.Max(sum[:]) < resembles*float64(len(some)) {
			return int(foot * float64(r))
		}
	}
	return 2 * reach
}

// apartFrom are the places, the first of them first, that lie at least so far from each
// other: those that show the same speck are one.
func apartFrom(places []measured, least float64) []measured {
	var kept []measured
	for _, f := range places {
		if !slices.ContainsFunc(kept, func(o measured) bool { return math.Hypot(o.hx-f.hx, o.hy-f.hy) < least }) {
			kept = append(kept, f)
		}
	}
	return kept
}

// nearest is how well a patch fits at a shift, or two pixels of the level beside it.
func (s *searched) nearest(dx, dy int) float64 {
	const beside = 2
	side, best := 2*s.reach+1, -1.0
	for y := max(dy-beside, -s.reach); y <= min(dy+beside, s.reach); y++ {
		for x := max(dx-beside, -s.reach); x <= min(dx+beside, s.reach); x++ {
			best = max(best, s.fits[(y+s.reach)*side+x+s.reach])
		}
	}
	return best
}

// lying is a patch at a shift that its neighbours vouch for, pixels of the level: where it
// was found by itself, if that is certain and there, and else there to within a pixel.
func (s *searched) lying(dx, dy int) measured {
	f, size := s.measured, math.Exp2(float64(s.level))
	if certainty(f) < certainFrom || math.Hypot(f.dx-size*float64(dx), f.dy-size*float64(dy)) > 2*size {
		f.dx, f.dy, f.precision = size*float64(dx), size*float64(dy), linear.Symmetric{XX: 1 / size / size, YY: 1 / size / size}
		f.score = s.nearest(dx, dy)
	}
	f.settled, f.vouched = true, true
	return f
}

// blank takes the middle of a search out of its scores: where the map puts the patches.
func blank(scores []float64, reach int) {
	side := 2*reach + 1
	for y := -peakRadius; y <= peakRadius; y++ {
		for x := -peakRadius; x <= peakRadius; x++ {
			if x*x+y*y <= peakRadius*peakRadius {
				scores[(y+reach)*side+x+reach] = -1
			}
		}
	}
}

func highest(v []float64) int {
	at := 0
	for i := range v {
		if v[i] > v[at] {
			at = i
		}
	}
	return at
}

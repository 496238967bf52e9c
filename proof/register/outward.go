package register

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/linear"
	"threeply/proof/survey"
)

// unmeasured says how far the plate may lie off in the cells in which nothing was measured: the
// map may be off by what it is unsure there, and the film may bend as it does in all of the
// picture, or as it does near by where that is more, the more so the further away from any place.
func (p *pair) unmeasured(grid *survey.Map, fit *steadied) {
	var agreeing []int
	for i := range grid.Cells {
		if grid.Cells[i] == survey.Measured {
			agreeing = append(agreeing, i)
		}
	}
	anywhere := usual(grid, agreeing)
	diagonal := math.Hypot(float64(grid.Area[2]-grid.Area[0]), float64(grid.Area[3]-grid.Area[1]))
	for i := range grid.Cells {
		if grid.Has(i) {
			continue
		}
		away := func(k int) float64 {
			x, y := grid.Centre(i)
			u, v := grid.Centre(k)
			return math.Hypot(u-x, v-y)
		}
		far := diagonal
		for k := range grid.Cells {
			if grid.Has(k) {
				far = min(far, away(k))
			}
		}
		const (
			sigmas  = 2.45 // 95 % of a normal error both ways
			nearest = 5    // cells
			bends   = 2    // of what is usual
			farther = 4    // how that grows over the diagonal
		)
		slices.SortStableFunc(agreeing, func(a, b int) int { return cmp.Compare(away(a), away(b)) })
		bend := bends * max(anywhere, usual(grid, agreeing[:min(nearest, len(agreeing))])) * (1 + farther*far/diagonal)
		grid.Within[i] = min(math.Hypot(sigmas/math.Sqrt2*fit.errorAt(grid.Centre(i)), bend), diagonal)
		if grid.Cells[i] == survey.Unmatched {
			grid.Within[i] = max(grid.Within[i], p.rivalsReach())
		}
	}
}

// usual is the root mean square of how far the plate lies off in cells, 0 of none.
func usual(grid *survey.Map, cells []int) float64 {
	sum := 0.0
	for _, i := range cells {
		sum += (grid.DX[i]*grid.DX[i] + grid.DY[i]*grid.DY[i]) / float64(len(cells))
	}
	return math.Sqrt(sum)
}

// outward widens the ranges of cells to how far the plate lies off there if it bends on as it
// does around them. A cell at an edge, or without a place of its own, goes by places further
// in, and what bends does so the more the further out.
func outward(grid *survey.Map, places []measured) {
	places = slices.DeleteFunc(slices.Clone(places), func(f measured) bool {
		return certainty(f) < certainFrom || grid.Cells[grid.At(f.x, f.y)] == survey.Elsewhere
	})
	for i := range grid.Cells {
		if grid.Cells[i] == survey.Elsewhere {
			continue
		}
		if dx, dy, ok := curvedAt(grid, i, places); ok {
			off := math.Hypot(grid.DX[i], grid.DY[i])
			grid.Within[i] = max(grid.Within[i], math.Sqrt(max(dx*dx+dy*dy-off*off, 0)))
		}
	}
}

// curvedAt is how far places lie off in the middle of cell i, in their pixels, by a surface of
// the second degree through them: the near and the precise ones count for more (W. S. Cleveland,
// S. J. Devlin, J. Am. Stat. Assoc. 83 (1988) 596). ok is false where too few are near, or none.
func curvedAt(grid *survey.Map, i int, places []measured) (dx, dy float64, ok bool) {
	const (
		reach   = 2.5  // cells at which a place counts for 1/e
		nearest = 2    // cells to the nearest place at most
		exact   = 0.1  // pixels of error at which a place counts for half
		fewest  = 8    // places, counted by how much each of them counts
		ridge   = 1e-3 // share of all weight that holds down what the places do not decide
		terms   = 6
	)
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	var a [terms * terms]float64
	var b [terms * 2]float64
	var sum, squares, all float64
	near := math.Inf(1)
	for _, f := range places {
		u, v := (f.x-x)/w, (f.y-y)/h
		k := math.Exp(-(u*u + v*v) / (reach * reach))
		near, sum, squares = min(near, math.Hypot(u, v)), sum+k, squares+k*k
		e := standardError(f)
		k *= exact * exact / (exact*exact + e*e)
		all += k
		phi := [terms]float64{1, u, v, u * u, u * v, v * v}
		for r := range terms {
			for c := range terms {
				a[r*terms+c] += k * phi[r] * phi[c]
			}
			b[2*r] += k * phi[r] * f.dx
			b[2*r+1] += k * phi[r] * f.dy
		}
	}
	if near > nearest || sum*sum < fewest*squares {
		return 0, 0, false
	}
	for r := 1; r < terms; r++ {
		a[r*terms+r] += ridge * all
	}
	if !linear.Solve(a[:], b[:], 0) {
		return 0, 0, false
	}
	return b[0], b[1], true
}

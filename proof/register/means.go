package register

import (
	"math"
	"slices"

	"threeply/proof/survey"
	"threeply/proof/warp"
)

// cellMean is how far the plate lies off in a cell by the places near it, with its standard error,
// both ways together, and of which places it is made.
type cellMean struct {
	dx, dy, within float64
	own            float64 // the standard error by what the places know of themselves alone
	of             []portion
}

// elsewhere tells whether that is so far that a part of the picture is said to lie elsewhere, and
// beyond doubt: a coarse place, by which a cell that shows little was measured, may be off by as much.
func (m *cellMean) elsewhere(tol float64) bool {
	const sigmas = 2.45 // 95 % of a normal error both ways
	return math.Hypot(m.dx, m.dy) > max(tol, apart, sigmas/math.Sqrt2*m.within)
}

// portion is a place of a mean: how much of the mean it is (0..1), and the square of its error.
type portion struct {
	measured
	weight, square float64
}

// noiseAgainst is the square by which two means differ by the noise of their places alone: what
// they have in common is no difference.
func (m *cellMean) noiseAgainst(o *cellMean) float64 {
	var differ []portion
	add := func(s portion, weight float64) {
		i := slices.IndexFunc(differ, func(o portion) bool { return o.x == s.x && o.y == s.y })
		if i < 0 {
			i = len(differ)
			differ = append(differ, portion{s.measured, 0, s.square})
		}
		differ[i].weight += weight
	}
	for _, s := range m.of {
		add(s, s.weight)
	}
	for _, s := range o.of {
		add(s, -s.weight)
	}
	sum := 0.0
	for _, s := range differ {
		sum += s.weight * s.weight * s.square
	}
	more := max(m.within/m.own, o.within/o.own) // places lie off by more than each of them knows
	return sum * more * more
}

// offIn is the mean of the places near a cell that say the same as the nearest, the near and
// the precise counting for more.
// A place in the cell itself that lies elsewhere goes before a nearer one that agrees.
func offIn(x, y float64, grid *survey.Map, near []measured, tol float64) (m cellMean) {
	w, h := grid.Sides()
	nearest, at := 0, math.Inf(1)
	for k, f := range near {
		d := math.Hypot((f.x-x)/w, (f.y-y)/h)
		if !f.agrees(tol) && math.Abs(f.x-x) <= w/2 && math.Abs(f.y-y) <= h/2 {
			d = 0
		}
		if d < at {
			nearest, at = k, d
		}
	}
	var all float64
	for _, f := range near {
		if math.Hypot(f.dx-near[nearest].dx, f.dy-near[nearest].dy) > tol {
			continue
		}
		d := math.Hypot((f.x-x)/w, (f.y-y)/h)
		c := f.precision.Inverse()
		k := math.Exp(-d*d) / (c.XX + c.YY + 1e-9)
		m.of, all = append(m.of, portion{f, k, c.XX + c.YY}), all+k
		m.dx, m.dy = m.dx+k*f.dx, m.dy+k*f.dy
	}
	m.dx, m.dy = m.dx/all, m.dy/all
	var own, spread, squares float64
	for k := range m.of {
		s := &m.of[k]
		s.weight /= all
		own += s.weight * s.weight * s.square
		spread += s.weight * ((s.dx-m.dx)*(s.dx-m.dx) + (s.dy-m.dy)*(s.dy-m.dy))
		squares += s.weight * s.weight
	}
	m.own, m.within = math.Sqrt(own), math.Sqrt(max(own, spread*squares))
	return m
}

// steepness is by how much a bend changes over half a cell, for a place may lie so far from the
// middle that it speaks for; over a whole one at the edges, where no place is measured further out.
func steepness(grid *survey.Map, i int, bend *warp.Local) float64 {
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	dx, dy := bend.At(x, y)
	most := 0.0
	for _, d := range [4][2]float64{{-w, 0}, {w, 0}, {0, -h}, {0, h}} {
		u, v := bend.At(x+d[0], y+d[1])
		most = max(most, math.Hypot(u-dx, v-dy))
	}
	if grid.AtEdge(i) {
		return most
	}
	return most / 2
}

// widenByBend widens the range of measured cells by what the plate bends within a cell and
// to its sides: by how much neighbouring cells differ more than their noise has them, in all of
// the picture, or just here where that is more and hardly by chance. A cell further off than tol
// is a wrong place or a part by itself, and says nothing of how its neighbours bend.
func widenByBend(grid *survey.Map, means []cellMean, tol float64) {
	const hardly = 2.5 // times the noise, for four differences or so
	here, counts := make([]float64, len(grid.Cells)), make([]float64, len(grid.Cells))
	var sum, count float64
	far := func(i int) bool { return math.Hypot(grid.DX[i], grid.DY[i]) > tol }
	each := func(i, k int) {
		if grid.Cells[i] == survey.Measured && grid.Cells[k] == survey.Measured {
			dx, dy := grid.DX[i]-grid.DX[k], grid.DY[i]-grid.DY[k]
			v, noise := dx*dx+dy*dy, means[i].noiseAgainst(&means[k])
			jumps := far(i) != far(k)
			if !jumps {
				sum, count = sum+v-noise, count+1
			}
			for _, j := range [2]int{i, k} {
				if !jumps || far(j) {
					here[j], counts[j] = here[j]+v-hardly*noise, counts[j]+1
				}
			}
		}
	}
	for i := range grid.Cells {
		if i%grid.Across > 0 {
			each(i, i-1)
		}
		if i >= grid.Across {
			each(i, i-grid.Across)
		}
	}
	everywhere := sum / max(count, 1)
	for i := range grid.Cells {
		if !grid.Has(i) {
			continue
		}
		differ, farther := math.Sqrt(max(everywhere, here[i]/max(counts[i], 1), 0)), 1.0
		if grid.AtEdge(i) {
			farther = 2 // no place is measured further out
		}
		grid.Within[i] = math.Hypot(grid.Within[i], farther*differ) + differ/2
	}
}

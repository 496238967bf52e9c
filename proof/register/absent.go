package register

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/survey"
)

// A strip that moved by more than its own depth leaves nothing of itself to be found, and a
// place just beyond it would speak for its cells. So a cell is asked itself, where a patch of
// it fits neither where the map puts it nor near by: by probes, small patches all over it.

// suspects lists the cells of patches of a set that are rich in detail and lie on the plate,
// and fit neither where m puts them nor near by.
func (p *pair) suspects(b *patchSet, m affine.Matrix, grid *survey.Map, missed []measured) (cells []int) {
	const (
		rich    = 4    // times what shows something at least
		onPlate = 0.59 // of corners and middle: an edge may lie hardly off it
		atHome  = 0.2  // score where the map puts it, at most
		near    = 0.4  // and near by
	)
	for _, f := range missed {
		t := f.patch
		there := m.Mul(affine.FromLevel(b.level)).Mul(affine.Translate(float64(t.x), float64(t.y)))
		if f.home <= atHome && f.score <= near && t.sharp >= rich*p.leastDetail() && p.other.covers(there, b.tile) >= onPlate {
			cells = append(cells, grid.At(b.middle(t)))
		}
	}
	return cells
}

// gone tells of which of the suspected cells the plate does not show what the key does: most
// of their probes fit no better than by chance where the map and the nearest place put them.
// Cells that no place speaks for count with them, and fewer than fewestMoved side by side are
// no evidence: there may be dust.
func (p *pair) gone(m affine.Matrix, grid *survey.Map, level int, places []measured, suspects []int) []bool {
	out := make([]bool, len(grid.Cells))
	if len(suspects) == 0 {
		return out
	}
	with := *grid
	cells := make([]byte, len(out))
	for i := range cells {
		cells[i] = survey.Measured
		if len(within(grid, i, places, speaksFor)) == 0 {
			cells[i] = survey.Unmatched
		}
	}
	probes := &patchSet{key: p.key, level: level}
	probes.setTransform(smallPatch / 2)
	g := newMatcher(probes)
	asked := make([]bool, len(out))
	for next := suspects; len(next) > 0; next = next[1:] {
		i := next[0]
		if !asked[i] && cells[i] == survey.Measured && p.fitsByChance(g, m, grid, i, places) {
			cells[i], out[i] = survey.Unmatched, true
			next = append(next, neighbours(grid, i)...)
		}
		asked[i] = true
	}
	with.Cells = string(cells)
	for _, part := range partsOf(&with, survey.Unmatched) {
		for _, i := range part {
			out[i] = out[i] && len(part) >= fewestMoved
		}
	}
	return out
}

// fitsByChance tells whether the patches all over a cell that show detail, and not only noise,
// fit no better than others would: half of them have a score of a fifth at most.
func (p *pair) fitsByChance(g *matcher, m affine.Matrix, grid *survey.Map, i int, places []measured) bool {
	const (
		side    = 3   // probes each way
		fewest  = 4   // that show detail
		detail  = 0.8 // what both halves have in common at least
		byLuck  = 0.2 // score
		farther = 3   // cells to the nearest place
	)
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	size := math.Exp2(float64(g.level))
	nearest, at := measured{}, float64(farther)
	for _, f := range within(grid, i, places, farther) {
		if d := math.Hypot((f.x-x)/w, (f.y-y)/h); d < at {
			nearest, at = f, d
		}
	}
	var scores []float64
	for j := range side * side {
		t := g.patchAround(x+w*(float64(j%side)-1)/side, y+h*(float64(j/side)-1)/side)
		if t.x < 0 || t.y < 0 || p.key.common(g.level, t, g.tile) < detail {
			continue
		}
		f := g.nudge(p.other, m, measured{patch: t, dx: nearest.dx / size, dy: nearest.dy / size})
		scores = append(scores, f.score)
	}
	return len(scores) >= fewest && median(scores) <= byLuck
}

// common is the correlation of the edges of two halves of a patch, each of every other pixel
// as the fields of one colour on a chess board, seen at half the size: 1 where it shows
// nothing but detail, 0 of noise.
func (s *pyramid) common(level int, t *patch, tile int) float64 {
	const margin = 3
	from := max(level-1, 0)
	x, y, n := t.x/2, t.y/2, tile/2
	if level > 0 {
		x, y, n = t.x, t.y, tile
	}
	side := n + 2*margin
	all := cutTones(s.levels[from], s.tone, 2*(x-margin), 2*(y-margin), 2*side, 2*side)
	var q [2]edgeField
	for k := range q {
		half := newTones(side, side)
		for j := range half.v {
			i := 4*side*(j/side) + 2*(j%side)
			half.v[j] = (all.v[i+k] + all.v[i+all.w+1-k]) / 2
		}
		blur(&room{}, half)
		q[k] = edgesOf(&room{}, half, false)
	}
	b := &patchSet{tile: n, taper: taper(n)}
	for _, c := range b.taper {
		b.weight += float64(c)
	}
	b.weight *= b.weight
	u, v := q[0].v[margin*side+margin:], q[1].v[margin*side+margin:]
	mu, mv := b.mean(u, side), b.mean(v, side)
	var uv, uu, vv float64
	for j := range n * n {
		i, c := j/n*side+j%n, float64(b.taper[j/n]*b.taper[j%n])
		a, d := u[i]-mu, v[i]-mv
		uv += c * float64(real(a)*real(d)+imag(a)*imag(d))
		uu += c * float64(real(a)*real(a)+imag(a)*imag(a))
		vv += c * float64(real(d)*real(d)+imag(d)*imag(d))
	}
	return uv / math.Sqrt(uu*vv+1e-20)
}

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

// halves are two pictures of one patch, each of every other pixel as the fields of one colour on
// a chess board, seen at half the size: they share what it shows, and no grain. Around their n × n
// pixels lie halvesMargin more each way.
func (s *pyramid) halves(level int, t *patch, tile int) (pics [2]tones, n int) {
	const margin = halvesMargin
	from := max(level-1, 0)
	x, y := t.x/2, t.y/2
	n = tile / 2
	if level > 0 {
		x, y, n = t.x, t.y, tile
	}
	side := n + 2*margin
	all := cutTones(s.levels[from], s.tone, 2*(x-margin), 2*(y-margin), 2*side, 2*side)
	for k := range pics {
		half := newTones(side, side)
		for j := range half.v {
			i := 4*side*(j/side) + 2*(j%side)
			half.v[j] = (all.v[i+k] + all.v[i+all.w+1-k]) / 2
		}
		blur(&room{}, half)
		pics[k] = half
	}
	return pics, n
}

const halvesMargin = 3

// common is the correlation of the edges of both halves of a patch: 1 where it shows nothing but
// detail, 0 of noise.
func (s *pyramid) common(level int, t *patch, tile int) float64 {
	const margin = halvesMargin
	pics, n := s.halves(level, t, tile)
	q := [2]edgeField{edges(pics[0]), edges(pics[1])}
	side := pics[0].w
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

// shows tells whether the plate would show what the key does in a cell, where m puts it: more than
// its grain and the key's own hide, over most of the cell, as no speck of dust does. The plate's
// grain counts up to twice what is usual of it: what is rougher is no film.
func (p *pair) shows(m affine.Matrix, grid *survey.Map, i int, usual float64) bool {
	const (
		side  = 3   // probes each way
		most  = 5   // of them that show something
		clear = 0.8 // share of what a probe shows that is no grain
	)
	x, y := grid.Centre(i)
	w, h := grid.Sides()
	here := p.key.probes(p.edgeLevel())
	n := 0
	for j := range side * side {
		u, v := x+w*(float64(j%side)-1)/side, y+h*(float64(j/side)-1)/side
		shown, grain := p.key.relief(here.level, here.patchAround(u, v), here.tile)
		if shown >= clear*(shown+max(grain, min(p.grainAt(m, u, v), 2*usual))) {
			n++
		}
	}
	return n >= most
}

// probes is a set for small patches of s at a level, or at its last. It holds none yet.
func (s *pyramid) probes(level int) *patchSet {
	b := &patchSet{key: s, level: min(level, len(s.levels)-1)}
	b.setTransform(smallPatch / 2)
	return b
}

// grainAt is the plate's grain where m puts a pixel of the key, see relief.
func (p *pair) grainAt(m affine.Matrix, x, y float64) float64 {
	b := p.other.probes(p.edgeLevel())
	_, grain := p.other.relief(b.level, b.patchAround(m.Apply(x, y)), b.tile)
	return grain
}

// usualGrain is the median of the plate's grain in the middles of all cells.
func (p *pair) usualGrain(m affine.Matrix, grid *survey.Map) float64 {
	grains := make([]float64, len(grid.Cells))
	for i := range grains {
		x, y := grid.Centre(i)
		grains[i] = p.grainAt(m, x, y)
	}
	return median(grains)
}

// relief is how much the slope of the tones changes over a patch by what both its halves share,
// and how much by the rest, its grain: variances of the change over two pixels. An even slope, as
// of a sky, is nothing to measure by.
func (s *pyramid) relief(level int, t *patch, tile int) (shown, grain float64) {
	pics, n := s.halves(level, t, tile)
	a, b := pics[0], pics[1]
	for _, step := range [2]int{1, a.w} {
		var sumA, sumB, ab, rest float64
		for y := halvesMargin; y < halvesMargin+n; y++ {
			for x := halvesMargin; x < halvesMargin+n; x++ {
				i := y*a.w + x
				da, db := float64(a.v[i+step]-a.v[i-step]), float64(b.v[i+step]-b.v[i-step])
				sumA, sumB, ab, rest = sumA+da, sumB+db, ab+da*db, rest+(da-db)*(da-db)/2
			}
		}
		all := float64(n * n)
		shown, grain = shown+(ab-sumA*sumB/all)/all, grain+rest/all
	}
	return max(shown, 0), grain
}

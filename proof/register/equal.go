package register

import (
	"cmp"
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
)

// A soft edge, seen in logarithms, lies nearer to its dark side than a sharp one: where a lens
// drew one plate softer than the other, their edges lie up to a fifth of a pixel apart. So
// for the last measurement both plates are equalised: the light of the scene is worked out from each, the
// sharper one's is softened until it is as soft as the other's, and edges are taken from the
// logarithm of that.

const (
	// usualContrast is that of separation negatives, developed to a gamma of about 0.8
	// (common practice). Only the ratio of both plates' contrasts is measured; what they
	// have in common matters little.
	usualContrast = 0.8

	// softness is σ² of the blur that both plates get, in pixels of the level: it holds
	// down noise as blur does, before the logarithm makes the most of it in the shadows.
	softness = 2
)

// lit is a plate whose table gives the light of the scene, by a plate of a contrast, and
// whose edges are taken after a blur of σ² variance.
func (s *pyramid) lit(contrast, variance float64) *pyramid {
	out := *s
	out.tone, out.soft = newLightTable(s.negative, s.white, contrast), halfKernel(variance)
	return &out
}

// smoothing is σ² of the blur that edges are taken after.
func (s *pyramid) smoothing() float64 {
	if s.soft == nil {
		return 1
	}
	return softness
}

// halfKernel is a Gaussian of σ² variance from its middle on, as far as about 3 σ.
func halfKernel(variance float64) []float32 {
	out := make([]float32, int(2.8*math.Sqrt(variance)+0.5)+1)
	sum := 0.0
	for i := range out {
		v := math.Exp(-float64(i*i) / (2 * variance))
		sum += v
		if i > 0 {
			sum += v
		}
		out[i] = float32(v)
	}
	for i := range out {
		out[i] /= float32(sum)
	}
	return out
}

// soften blurs pic in place by half a kernel, across and down.
func soften(room *room, pic tones, half []float32) {
	w, h, r := pic.w, pic.h, len(half)-1
	room.spare = slices.Grow(room.spare[:0], max(w*h, w+2*r))
	line := room.spare[:w+2*r]
	for y := range h {
		row := pic.v[y*w : (y+1)*w]
		copy(line[r:], row)
		for i := range r {
			line[i], line[r+w+i] = row[0], row[w-1]
		}
		weighed(row, func(k int) []float32 { return line[r+k:] }, half)
	}
	from := room.spare[:w*h]
	copy(from, pic.v)
	for y := range h {
		weighed(pic.v[y*w:(y+1)*w], func(k int) []float32 { return from[min(max(y+k, 0), h-1)*w:] }, half)
	}
}

// weighed fills row with the sum of the rows from -r to r away, by weights for 0 … r. It adds several
// weights at a time, the first five of them together where there are so many: each time reads and writes the row.
func weighed(row []float32, away func(k int) []float32, half []float32) {
	const together = 5
	k := together
	if len(half) >= together {
		addNine(row, away, [together]float32(half))
	} else {
		scaled(row, away(0), half[0])
		k = 1
	}
	for ; k+1 < len(half); k += 2 {
		addFour(row, away(-k), away(k), half[k], away(-k-1), away(k+1), half[k+1])
	}
	if k < len(half) {
		addBoth(row, away(-k), away(k), half[k])
	}
}

// addNine fills row with the sum of the rows from -4 to 4 away.
func addNine(row []float32, away func(k int) []float32, w [5]float32) {
	n := len(row)
	m, a, b, c, d, e, f, g, h := away(0)[:n], away(-1)[:n], away(1)[:n], away(-2)[:n], away(2)[:n], away(-3)[:n], away(3)[:n], away(-4)[:n], away(4)[:n]
	w0, w1, w2, w3, w4 := w[0], w[1], w[2], w[3], w[4]
	for i := range row {
		v := w0 * m[i]
		v += w1 * (a[i] + b[i])
		v += w2 * (c[i] + d[i])
		v += w3 * (e[i] + f[i])
		row[i] = v + w4*(g[i]+h[i])
	}
}

func scaled(row, a []float32, c float32) {
	for i, v := range a[:len(row)] {
		row[i] = c * v
	}
}

func addBoth(row, a, b []float32, c float32) {
	b = b[:len(row)]
	for i, v := range a[:len(row)] {
		row[i] += c * (v + b[i])
	}
}

// addFour is addBoth of a and b and then of c and d.
func addFour(row, a, b []float32, ab float32, c, d []float32, cd float32) {
	a, b, c, d = a[:len(row)], b[:len(row)], c[:len(row)], d[:len(row)]
	for i, v := range row {
		v += ab * (a[i] + b[i])
		row[i] = v + cd*(c[i]+d[i])
	}
}

// look is how two plates are brought to one contrast and softness.
type look struct {
	key, other float64 // the contrasts that they are taken to have; 0 where that was not found
	softer     float64 // σ² of the blur that the key gets besides, below 0 the other plate; pixels of the full size
}

// lookOf is the look that both plates share where c's map lays the one on the other.
func (p *pair) lookOf(c candidate, b *patchSet) look {
	key, other := usualContrast, usualContrast
	if x, y := densitiesOfBoth(p.key, p.other, c.m, c.agreesAt(b)); x != nil {
		const most = 1.5
		ratio := min(max(math.Sqrt(spreadOf(y)/spreadOf(x)), 1/most), most)
		key, other = key/ratio, other*ratio
	}
	return look{key, other, p.softer(c, b, key, other) * math.Exp2(float64(2*b.level))}
}

// agreesAt tells whether a pixel of the full size lies in a patch that was found for certain, and
// agrees: what is missing from one plate tells nothing of its contrast.
func (c candidate) agreesAt(b *patchSet) func(x, y float64) bool {
	var on []*patch
	for _, f := range c.patches {
		if f.agrees(nearby) && certainty(f) >= certainFrom {
			on = append(on, f.patch)
		}
	}
	to := affine.ToLevel(b.level)
	return func(x, y float64) bool {
		u, v := to.Apply(x, y)
		i, j := int(u), int(v)
		return slices.ContainsFunc(on, func(t *patch) bool { return i >= t.x && i < t.x+b.tile && j >= t.y && j < t.y+b.tile })
	}
}

// equalised is the pair in one look, on the plane of a level.
func (p *pair) equalised(l look, level int) *pair {
	softer := l.softer / math.Exp2(float64(2*level))
	g := *p.keyPlate
	g.key = p.key.lit(l.key, softness+max(softer, 0))
	return &pair{&g, p.other.lit(l.other, softness+max(-softer, 0)), p.crew}
}

// nudgeEqualised measures places that patches of a set were found in once more, with both plates
// in one look, which tells more exactly where they lie, though not whether they are there. So it
// leaves places alone that lie elsewhere: that those are believed matters more than to a part of
// a pixel where they lie. But for those that fit about as well where the map puts them, as what is
// smooth does while one plate is softer than the other: the look tells where these lie. It changes
// nothing where the look is not known.
func (p *pair) nudgeEqualised(l look, b *patchSet, m affine.Matrix, places []measured) {
	const (
		most   = 0.75 // pixels of the level that a place may move by: what moves further is another one
		asWell = 0.9  // of its score, from which a place fits about as well where the map puts it
	)
	if l.key == 0 {
		return
	}
	equal := p.equalised(l, b.level)
	g := newMatcher(b.seenBy(equal.key))
	p.crew.each(g, len(places), func(g *matcher, i int) {
		at := &places[i]
		doubtful := !at.agrees(most) && at.home >= asWell*at.score
		if !doubtful && !at.agrees(nearby) {
			return
		}
		f := *at
		f.patch = &patch{x: f.patch.x, y: f.patch.y}
		there := g.nudge(equal.other, m, f)
		if doubtful {
			f.dx, f.dy = 0, 0
			if f = g.nudge(equal.other, m, f); f.agrees(most) && f.score >= there.score {
				at.dx, at.dy, at.precision = f.dx, f.dy, f.precision
				return
			}
		}
		if at.agrees(nearby) && there.settled && math.Hypot(there.dx-at.dx, there.dy-at.dy) <= most {
			at.dx, at.dy, at.precision = there.dx, there.dy, there.precision
		}
	})
}

// spreadOf is what lies between the lowest and the highest tenth of some codes.
func spreadOf(codes []float64) float64 {
	s := slices.Clone(codes)
	slices.Sort(s)
	return s[len(s)*9/10] - s[len(s)/10] + 1
}

// softer is σ² of the blur by which the key has to be softened to resemble the other plate
// most, below 0 where the other one has to be; in pixels of b's level. It is judged by the
// sharpest patches that agree.
func (p *pair) softer(c candidate, b *patchSet, key, other float64) float64 {
	const judges, tile, most, step = 12, 48, 15, 1.0
	var on []measured
	for _, f := range c.patches {
		if f.agrees(nearby) && certainty(f) >= certainFrom {
			on = append(on, f)
		}
	}
	slices.SortFunc(on, func(a, b measured) int { return cmp.Compare(b.sharp, a.sharp) })
	on = on[:min(len(on), judges)]
	if len(on) == 0 {
		return 0
	}
	likeness := func(softer float64) float64 {
		o := p.other.lit(other, softness+max(-softer, 0))
		small := b.seenBy(p.key.lit(key, softness+max(softer, 0)))
		small.setTile(tile)
		g := newMatcher(small)
		sum := 0.0
		for _, f := range on {
			in := (b.tile - tile) / 2
			f.patch = &patch{x: f.patch.x + in, y: f.patch.y + in}
			sum += g.nudge(o, c.m, f).score
		}
		return sum
	}
	return highestAlong(likeness, step, most)
}

// highestAlong is where f is highest, between -most and most, about: steps from 0 that double
// go on as long as it rises, what lies between is halved, and a parabola through three settles it.
func highestAlong(f func(float64) float64, step, most float64) float64 {
	x := [3]float64{-step, 0, step} // the highest known, and its neighbours
	y := [3]float64{f(x[0]), f(x[1]), f(x[2])}
	for y[2] > y[1] && x[2] < most {
		next := min(2*x[2]+step, most)
		x, y = [3]float64{x[1], x[2], next}, [3]float64{y[1], y[2], f(next)}
	}
	for y[0] > y[1] && x[0] > -most {
		next := max(2*x[0]-step, -most)
		x, y = [3]float64{next, x[0], x[1]}, [3]float64{f(next), y[0], y[1]}
	}
	if y[1] < y[0] || y[1] < y[2] {
		return x[slices.Index(y[:], slices.Max(y[:]))]
	}
	for rounds := 0; rounds < 4 && x[2]-x[0] > 2*step+math.Abs(x[1])/4; rounds++ { // no parabola fits what is so wide
		if x[1]-x[0] > x[2]-x[1] {
			at := (x[0] + x[1]) / 2
			if v := f(at); v > y[1] {
				x, y = [3]float64{x[0], at, x[1]}, [3]float64{y[0], v, y[1]}
			} else {
				x[0], y[0] = at, v
			}
			continue
		}
		at := (x[1] + x[2]) / 2
		if v := f(at); v > y[1] {
			x, y = [3]float64{x[1], at, x[2]}, [3]float64{y[1], v, y[2]}
		} else {
			x[2], y[2] = at, v
		}
	}
	// The parabola's divided differences.
	d01, d12 := (y[1]-y[0])/(x[1]-x[0]), (y[2]-y[1])/(x[2]-x[1])
	bend := (d12 - d01) / (x[2] - x[0])
	if bend >= 0 {
		return x[1]
	}
	return min(max((x[0]+x[1])/2-d01/(2*bend), x[0]), x[2])
}

// seenBy is a set for patches as those of b, of another view of the key. It holds none yet.
func (b *patchSet) seenBy(key *pyramid) *patchSet {
	out := *b
	out.key, out.patches = key, nil
	return &out
}

// remeasureEqualised is remeasure with both plates equalised, and again where that moved the
// map by so much that a step of Gauss and Newton has not ended there.
func (p *pair) remeasureEqualised(ctx context.Context, c candidate, b *patchSet, tol float64) candidate {
	const still, most = 0.04, 3 // pixels of the level at a corner; times
	c.look = p.lookOf(c, b)
	equal := p.equalised(c.look, b.level)
	g := newMatcher(b.seenBy(equal.key))
	old := slices.Clone(c.patches)
	c.patches = slices.Clone(c.patches)
	for i, f := range old {
		c.patches[i].patch = &patch{x: f.patch.x, y: f.patch.y}
	}
	for range most {
		before := c.m
		c = equal.remeasure(ctx, c, g, tol)
		if p.cornersApart(before, c.m) <= still*math.Exp2(float64(b.level)) {
			break
		}
	}
	for i := range c.patches {
		c.patches[i].patch = old[i].patch
	}
	return c
}

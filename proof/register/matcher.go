package register

import (
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/linear"
	"threeply/proof/plane"
)

// measured is where a patch of the key lies in the other plate, in pixels of the
// level, measured from the place where the present map puts it.
type measured struct {
	patch     *patch
	x, y      float64 // centre of the patch
	dx, dy    float64
	side      float64          // of the patch, at full size
	hx, hy    float64          // the heart of the patch, at full size; of a place elsewhere, of what both plates show of it
	precision linear.Symmetric // of dx and dy: the inverse of their covariance
	score     float64          // normalised correlation, -1..1
	home      float64          // score where the map puts it, where that was searched
	unique    float64          // 0: another place fits as well, 1: none comes close
	sharp     float64
	settled   bool      // the peak lies inside the search
	alone     bool      // it lies elsewhere, and no neighbour does by as much
	vouched   bool      // its neighbours and it, together, lie nowhere else
	elected   bool      // of a ruled picture: it fits best there, as its neighbours do, each by itself
	rival     rival     // of a ruled picture: how it fits some lines further on
	rather    *measured // of a ruled picture: where else it fits better, at full size; nil for nowhere
}

// matcher looks for the patches of one set. It has room of its own to work in, so that
// no two goroutines may share it.
type matcher struct {
	*patchSet
	least  float64 // share of the search that the plate must cover
	exact  sampler // draws the other plate where a patch is measured without a search
	other  []complex64
	energy []float64
	score  []float64
	room   room
}

func newMatcher(b *patchSet) *matcher {
	n, side := b.f.n, 2*b.reach+1
	return &matcher{patchSet: b, least: 0.7, exact: bicubic, other: make([]complex64, n*n), energy: make([]float64, (n+1)*(n+1)), score: make([]float64, side*side)}
}

// another is a matcher like g with room of its own.
func (g *matcher) another() *matcher {
	out := newMatcher(g.patchSet)
	out.least, out.exact = g.least, g.exact
	return out
}

// find looks for a patch around the place where the full-size map m puts it. ok is
// false where too little of the search lies on the plate.
func (g *matcher) find(other *pyramid, m affine.Matrix, t *patch) (f measured, ok bool) {
	tile, r := g.tile, g.reach
	if !g.canSearch(other, m, t) {
		return f, false
	}
	frame, side := g.window(other, m, t)
	pic := other.warp(&g.room, frame, side, side, bilinear)
	g.transformed(t)
	v, stride := other.edgesWithin(&g.room, pic)
	g.scan(t, v, stride)
	side = 2*r + 1
	at := highest(g.score)
	px, py := at%side, at/side
	f = measured{patch: t, x: float64(t.x) + float64(tile-1)/2, y: float64(t.y) + float64(tile-1)/2, score: g.score[at], sharp: t.sharp}
	f.dx, f.dy = float64(px-r), float64(py-r)
	for y := r - 1; y <= r+1; y++ {
		for x := r - 1; x <= r+1; x++ {
			f.home = max(f.home, crest(g.score, side, y*side+x))
		}
	}
	f.unique = lead(g.score, g.reach, at, peakRadius)
	if far := g.lobe(t); f.unique < uniqueEnough && far > peakRadius {
		f.unique = lead(g.score, g.reach, at, far)
	}
	if px > 0 && py > 0 && px < side-1 && py < side-1 && f.score > 0 {
		g.sharpen(&f, v[py*stride+px:], stride)
		f.home *= f.score / crest(g.score, side, at) // the search takes energies as near enough
	}
	const well, nearly = 0.6, 0.5 // score; share of it from which it fits nearly as well at home
	if !f.agrees(peakRadius) && f.score >= well && f.home >= nearly*f.score {
		f.home = max(f.home, g.atHome(other, m, f, v[r*stride+r:], stride))
	}
	return f, true
}

// atHome is how well a patch fits where the map puts it, to within a pixel: fine lines fit
// much worse half a pixel off, where a search may look. v is the edge field there.
func (g *matcher) atHome(other *pyramid, m affine.Matrix, f measured, v []complex64, stride int) float64 {
	f.dx, f.dy = 0, 0
	g.sharpen(&f, v, stride)
	return g.nudge(other, m, f).score
}

// expect has what is read of far plates for patches at full size at once: the patches, and what lies
// where m puts them, as far as a map that is nearly right leaves in doubt.
func (g *matcher) expect(other *pyramid, m affine.Matrix, patches []*patch) {
	const around = 20 // pixels
	key, whole := g.key.levels[0], other.levels[0]
	if g.level > 0 || !key.IsFar() && !whole.IsFar() {
		return
	}
	var here, there []plane.Box
	side := g.tile + 2*around
	for _, t := range patches {
		here = append(here, plane.Box{X0: t.x - around, Y0: t.y - around, X1: t.x - around + side, Y1: t.y - around + side})
		there = append(there, boxUnder(m.Mul(affine.Translate(float64(t.x-around), float64(t.y-around))), side, side))
	}
	key.Expect(here)
	whole.Expect(there)
}

// window is where the search for a patch looks, the margin that edges need around it too: the
// place of its first pixel, and its side.
func (g *matcher) window(other *pyramid, m affine.Matrix, t *patch) (frame affine.Matrix, side int) {
	out := g.reach + other.margin()
	return m.Mul(affine.FromLevel(g.level)).Mul(affine.Translate(float64(t.x-out), float64(t.y-out))), g.f.n + 2*other.margin()
}

// canSearch tells whether enough of the search for a patch lies on the plate.
func (g *matcher) canSearch(other *pyramid, m affine.Matrix, t *patch) bool {
	frame, side := g.window(other, m, t)
	return other.covers(frame, side) >= g.least
}

// crest is the score between the whole shifts about index i, by a parabola each way; that of
// the index itself where it is no highest.
func crest(score []float64, side, i int) float64 {
	most := score[i]
	for _, d := range [2]int{1, side} {
		a, b := score[i-d]-score[i], score[i+d]-score[i]
		if a > 0 || b > 0 || a+b == 0 {
			return score[i]
		}
		most -= (a - b) * (a - b) / 8 / (a + b)
	}
	return most
}

// peakRadius is how far a sharp patch's peak reaches, in pixels, and uniqueEnough the lead
// of the peak over all other places from which a patch is as unique as need be.
const (
	peakRadius   = 3
	uniqueEnough = 0.3
)

// lead is by what share the score at index at, of shifts up to reach each way, is above all
// that lie further than radius from it, 0..1; 0 where the search is hardly wider than that.
func lead(score []float64, reach, at, radius int) float64 {
	side := 2*reach + 1
	if score[at] <= 0 || 5*radius > 4*reach {
		return 0
	}
	second := 0.0
	for i, v := range score {
		if dx, dy := i%side-at%side, i/side-at/side; dx*dx+dy*dy > radius*radius {
			second = max(second, v)
		}
	}
	return max(1-second/score[at], 0)
}

// A patch still resembles itself where it is moved by up to its lobe: resembles is the share of
// its energy that it has in common with itself there, foot how much further the foot of the
// peak reaches.
const resembles, foot = 0.5, 1.25

// lobe is how far a patch resembles itself when it is moved, whichever way, in pixels:
// little where it is sharp, more where it is blurred, and along an edge without end.
func (b *patchSet) lobe(t *patch) int {
	t.lobed.Do(func() {
		for r := peakRadius; r <= b.reach; r++ {
			if at := b.moved(t, r); slices.Max(at[:]) < resembles {
				t.wide = int(foot * float64(r))
				return
			}
		}
		t.wide = 2 * b.reach
	})
	return t.wide
}

// moved is what share of its energy a patch has in common with itself when it is moved by r
// pixels across, down and both ways aslant.
func (b *patchSet) moved(t *patch, r int) (share [4]float64) {
	n, slant := b.tile, (r*7+5)/10
	for i, d := range [4][2]int{{r, 0}, {0, r}, {slant, slant}, {slant, -slant}} {
		dx, dy := d[0], d[1]
		var sum float64
		for y := max(0, -dy); y < min(n, n-dy); y++ {
			k, q := t.q.v[y*n:(y+1)*n], t.q.v[(y+dy)*n:(y+dy+1)*n]
			var row float32
			for x := max(0, -dx); x < min(n, n-dx); x++ {
				row += b.taper[x] * (real(k[x])*real(q[x+dx]) + imag(k[x])*imag(q[x+dx]))
			}
			sum += float64(b.taper[y] * row)
		}
		share[i] = sum / (t.energy + 1e-12)
	}
	return share
}

// scan fills score with the normalised correlation of every whole shift. The
// energy of the other patch is taken without taper, which is near enough to
// find the peak. v is the edge field that is searched, with stride values to the row.
func (g *matcher) scan(t *patch, v []complex64, stride int) {
	n, tile := g.f.n, g.tile
	for y := range n {
		line := v[y*stride : y*stride+n]
		copy(g.other[y*n:], line)
		above, sums := g.energy[y*(n+1)+1:(y+1)*(n+1)], g.energy[(y+1)*(n+1)+1:(y+2)*(n+1)]
		var row float64
		for x, v := range line {
			row += float64(real(v)*real(v) + imag(v)*imag(v))
			sums[x] = above[x] + row
		}
	}
	g.f.transform(g.other)
	g.f.correlate(t.spectrum, g.other, 2*g.reach+1)
	side := 2*g.reach + 1
	all := float64(n) * float64(n)
	mass := g.weight / float64(tile*tile)
	for y := range side {
		top, low := g.energy[y*(n+1):], g.energy[(y+tile)*(n+1):]
		for x := range side {
			e := max(low[x+tile]-top[x+tile]-low[x]+top[x], 0)
			g.score[y*side+x] = float64(real(g.other[y*n+x])) / all / math.Sqrt(t.energy*e*mass+1e-12)
		}
	}
}

// confirm measures a patch where the full-size map m puts it, without a search. ok is
// false where it does not lie there, nearly and beyond doubt. Since it was expected
// there, it need not be the only place that fits.
func (g *matcher) confirm(other *pyramid, m affine.Matrix, t *patch) (f measured, ok bool) {
	const (
		nearly = 0.8 // pixels off
		like   = 0.6 // score
		exact  = 0.4 // standard error, pixels, in the worse direction
	)
	half := float64(g.tile-1) / 2
	x, y := affine.FromLevel(g.level).Apply(float64(t.x)+half, float64(t.y)+half)
	if !other.has(m.Apply(x, y)) {
		return f, false
	}
	f = g.nudge(other, m, measured{patch: t, x: float64(t.x) + half, y: float64(t.y) + half, unique: 1, sharp: t.sharp})
	c := f.precision.Inverse()
	return f, f.settled && f.score >= like && math.Hypot(f.dx, f.dy) <= nearly && max(c.XX, c.YY) <= exact*exact
}

// nudge measures a patch again around where it was found, without a search.
func (g *matcher) nudge(other *pyramid, m affine.Matrix, f measured) measured {
	f.settled = false
	v, stride := g.under(other, m, f)
	g.sharpen(&f, v, stride)
	return f
}

// under is the edge field of the plate under a patch that was found, as edgesWithin has it.
func (g *matcher) under(other *pyramid, m affine.Matrix, f measured) (v []complex64, stride int) {
	margin := other.margin()
	at := affine.Translate(float64(f.patch.x-margin)+f.dx, float64(f.patch.y-margin)+f.dy)
	pic := other.warp(&g.room, m.Mul(affine.FromLevel(g.level)).Mul(at), g.tile+2*margin, g.tile+2*margin, g.exact)
	g.ready(f.patch)
	return other.edgesWithin(&g.room, pic)
}

// sharpen moves f by the Gauss-Newton step that makes the patch and the field
// v, with n values to the row, most alike when both are normalised (B. D.
// Lucas, T. Kanade, IJCAI 1981, 674). The gradient is that of their mean, so
// that neither plate is preferred. It notes the covariance.
func (g *matcher) sharpen(f *measured, v []complex64, n int) {
	t, tile := f.patch, g.tile
	mean := g.mean(v, n)
	var ep, cross float64
	for y, cy := range g.taper {
		k := t.q.v[y*tile : (y+1)*tile]
		q, taper := v[y*n:][:len(k)], g.taper[:len(k)]
		var e, s float32
		for x, k := range k {
			c, d := taper[x], q[x]-mean
			e += c * (real(d)*real(d) + imag(d)*imag(d))
			s += c * (real(d)*real(k) + imag(d)*imag(k))
		}
		ep += float64(cy * e)
		cross += float64(cy * s)
	}
	if ep <= 0 || t.energy <= 0 || cross <= 0 {
		return
	}
	f.score = cross / math.Sqrt(ep*t.energy)
	gp := float32(math.Sqrt(t.energy / ep))
	var slopes linear.Symmetric
	var bx, by, rest float64
	for y := 1; y < tile-1; y++ {
		k := t.q.v[y*tile : (y+1)*tile]
		up, down := t.q.v[(y-1)*tile:][:len(k)], t.q.v[(y+1)*tile:][:len(k)]
		q, qu, qd, taper := v[y*n:][:len(k)], v[(y-1)*n:][:len(k)], v[(y+1)*n:][:len(k)], g.taper[:len(k)]
		var sxx, sxy, syy, sbx, sby, sr float32
		for x := 1; x < len(k)-1; x++ {
			kx, ky, qx, qy := k[x+1]-k[x-1], down[x]-up[x], q[x+1]-q[x-1], qd[x]-qu[x]
			xr, xi := 0.25*(real(kx)+gp*real(qx)), 0.25*(imag(kx)+gp*imag(qx))
			yr, yi := 0.25*(real(ky)+gp*real(qy)), 0.25*(imag(ky)+gp*imag(qy))
			d := q[x] - mean
			rr, ri := real(k[x])-gp*real(d), imag(k[x])-gp*imag(d)
			c := taper[x]
			sxx += c * (xr*xr + xi*xi)
			sxy += c * (xr*yr + xi*yi)
			syy += c * (yr*yr + yi*yi)
			sbx += c * (xr*rr + xi*ri)
			sby += c * (yr*rr + yi*ri)
			sr += c * (rr*rr + ri*ri)
		}
		cy := float64(g.taper[y])
		slopes.XX += cy * float64(sxx)
		slopes.XY += cy * float64(sxy)
		slopes.YY += cy * float64(syy)
		bx += cy * float64(sbx)
		by += cy * float64(sby)
		rest += cy * float64(sr)
	}
	if slopes.Det() <= 1e-6*slopes.XX*slopes.YY {
		return
	}
	f.settled = true
	dx, dy := slopes.Solve(bx, by)
	f.dx += min(max(dx, -1), 1)
	f.dy += min(max(dy, -1), 1)
	// The blur makes about ten pixels share their noise. No patch is believed to be
	// surer than 0.03 pixel.
	const (
		shared  = 10
		atLeast = 0.03 * 0.03
	)
	noise := shared * g.key.smoothing() * rest / g.weight
	covariance := slopes.Inverse()
	covariance.XX = noise*covariance.XX + atLeast
	covariance.XY *= noise
	covariance.YY = noise*covariance.YY + atLeast
	f.precision = covariance.Inverse()
}

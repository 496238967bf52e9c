package register

import (
	"math"
	"slices"

	"threeply/proof/affine"
)

// spot is a place of the key that carries detail: the first pixel of a patch
// at some level, and how much its weakest direction carries.
type spot struct {
	x, y  int
	sharp float64
}

// found is where a patch of the key lies in the other plate, in pixels of the
// level, measured from the place where the present map puts it.
type found struct {
	x, y    float64 // centre of the patch at the level
	dx, dy  float64
	score   float64 // normalised correlation at the peak, -1..1
	unique  float64 // 0: another place fits as well, 1: none comes close
	sharp   float64
	settled bool // the peak lies inside the search
}

// gauge measures patches of tile pixels, searched reach pixels each way.
type gauge struct {
	tile, reach int
	f           *fft
	taper       []float32
	key, other  []complex64
	energy      []float64
}

// newGauge takes a transform length, a power of two; a quarter of it is spent
// on the search.
func newGauge(n int) *gauge {
	g := &gauge{tile: n * 3 / 4, reach: n / 8, f: newFFT(n)}
	g.taper = make([]float32, g.tile)
	for i := range g.taper {
		g.taper[i] = float32(math.Sqrt(math.Sin(math.Pi * (float64(i) + 0.5) / float64(g.tile))))
	}
	g.key, g.other = make([]complex64, n*n), make([]complex64, n*n)
	g.energy = make([]float64, (n+1)*(n+1))
	return g
}

// margin is what the blur and the gradient need around a patch.
const margin = 2

// field cuts w × h pixels of edge field out of a picture with a margin around.
func field(pic picture, w, h int) vectors {
	blur(pic)
	q := edges(pic)
	out := vectors{w, h, make([]complex64, w*h)}
	for y := range h {
		copy(out.v[y*w:(y+1)*w], q.v[(y+margin)*q.w+margin:])
	}
	return out
}

// spots chooses patches of the key at level l: the sharpest place in each cell
// of a grid of about count cells, where it carries a twentieth of what the
// tenth part of the best carries.
func spots(key *sheet, l, tile, count int) []spot {
	lc := max(l, key.levelFor(768))
	p := key.levels[lc]
	q := edges(cut(p, key.tone, 0, 0, p.W, p.H))
	// Sums of |q| and of q give the structure tensor's smaller eigenvalue:
	// (Σ|q| - |Σq|) / 2.
	w, h := p.W+1, p.H+1
	length, turned := make([]float64, w*h), make([]complex128, w*h)
	for y := range p.H {
		var a float64
		var b complex128
		for x := range p.W {
			v := complex128(q.v[y*p.W+x])
			a += math.Hypot(real(v), imag(v))
			b += v
			length[(y+1)*w+x+1] = length[y*w+x+1] + a
			turned[(y+1)*w+x+1] = turned[y*w+x+1] + b
		}
	}
	scale := 1 << (lc - l)
	t := max(tile/scale, 4)
	a := onto(lc)
	x0f, y0f := a.Apply(key.area[0], key.area[1])
	x1f, y1f := a.Apply(key.area[2], key.area[3])
	x0, y0 := max(int(math.Ceil(x0f)), 0), max(int(math.Ceil(y0f)), 0)
	x1, y1 := min(int(x1f)-t, p.W-t), min(int(y1f)-t, p.H-t)
	if x1 < x0 || y1 < y0 {
		return nil
	}
	across, down := x1-x0+t, y1-y0+t
	cell := max(math.Sqrt(float64(across*down)/float64(count)), float64(t)*0.6)
	nx, ny := max(int(float64(across)/cell), 1), max(int(float64(down)/cell), 1)
	step := max(t/8, 1)
	var out []spot
	for j := range ny {
		for i := range nx {
			best := spot{sharp: -1}
			for y := y0 + (y1-y0)*j/ny; y <= y0+(y1-y0)*(j+1)/ny; y += step {
				for x := x0 + (x1-x0)*i/nx; x <= x0+(x1-x0)*(i+1)/nx; x += step {
					n, m := y*w+x, (y+t)*w+x
					all := length[m+t] - length[n+t] - length[m] + length[n]
					v := turned[m+t] - turned[n+t] - turned[m] + turned[n]
					s := (all - math.Hypot(real(v), imag(v))) / float64(2*t*t)
					if s > best.sharp {
						best = spot{x, y, s}
					}
				}
			}
			best.x = min(best.x*scale, key.levels[l].W-tile)
			best.y = min(best.y*scale, key.levels[l].H-tile)
			out = append(out, best)
		}
	}
	sharps := make([]float64, len(out))
	for i, s := range out {
		sharps[i] = s.sharp
	}
	slices.Sort(sharps)
	least := 0.05*sharps[len(sharps)*9/10] + 1e-9
	return slices.DeleteFunc(out, func(s spot) bool { return s.sharp < least || s.x < 0 || s.y < 0 })
}

// find looks for one patch. ok is false where the plate does not reach.
func (g *gauge) find(key, other *sheet, m affine.Matrix, l int, s spot) (f found, ok bool) {
	n, t, r := g.f.n, g.tile, g.reach
	pic, inside := other.warp(m, l, s.x-r-margin, s.y-r-margin, n+2*margin, n+2*margin)
	if inside < 0.7 {
		return f, false
	}
	p := field(pic, n, n)
	k := field(cut(key.levels[l], key.tone, s.x-margin, s.y-margin, t+2*margin, t+2*margin), t, t)
	var mean complex64
	var weight float32
	for y := range t {
		for x := range t {
			c := g.taper[x] * g.taper[y]
			mean += k.v[y*t+x] * complex(c, 0)
			weight += c
		}
	}
	mean /= complex(weight, 0)
	clear(g.key)
	var ek float64
	for y := range t {
		for x := range t {
			v := (k.v[y*t+x] - mean) * complex(g.taper[x]*g.taper[y], 0)
			g.key[y*n+x] = v
			ek += float64(real(v)*real(v) + imag(v)*imag(v))
		}
	}
	copy(g.other, p.v)
	for y := range n {
		var row float64
		for x := range n {
			v := p.v[y*n+x]
			row += float64(real(v)*real(v) + imag(v)*imag(v))
			g.energy[(y+1)*(n+1)+x+1] = g.energy[y*(n+1)+x+1] + row
		}
	}
	g.f.transform(g.key)
	g.f.transform(g.other)
	g.f.correlate(g.key, g.other)
	side := 2*r + 1
	peak, at := math.Inf(-1), 0
	score := make([]float64, side*side)
	all := float64(n) * float64(n)
	// The taper's square has a mean of (2/π)² over the patch.
	mass := 4 / (math.Pi * math.Pi)
	for y := range side {
		for x := range side {
			e := g.energy[(y+t)*(n+1)+x+t] - g.energy[y*(n+1)+x+t] - g.energy[(y+t)*(n+1)+x] + g.energy[y*(n+1)+x]
			v := float64(real(g.other[y*n+x])) / all / math.Sqrt(ek*e*mass+1e-12)
			score[y*side+x] = v
			if v > peak {
				peak, at = v, y*side+x
			}
		}
	}
	px, py := at%side, at/side
	f = found{x: float64(s.x) + float64(t-1)/2, y: float64(s.y) + float64(t-1)/2, score: peak, sharp: s.sharp}
	f.dx, f.dy = float64(px-r), float64(py-r)
	second := 0.0
	for y := range side {
		for x := range side {
			if (x-px)*(x-px)+(y-py)*(y-py) > 9 {
				second = max(second, score[y*side+x])
			}
		}
	}
	if peak > 0 {
		f.unique = 1 - second/peak
	}
	if px > 0 && py > 0 && px < side-1 && py < side-1 {
		f.settled = true
		sx, sy := summit(score, side, px, py)
		f.dx += sx
		f.dy += sy
	}
	return f, true
}

// summit is the top of the quadratic that fits the 3 × 3 values around (x, y)
// by least squares, relative to it; at most one pixel away.
func summit(v []float64, side, x, y int) (dx, dy float64) {
	at := func(i, j int) float64 { return v[(y+j)*side+x+i] }
	var gx, gy, xx, yy, xy float64
	for j := -1; j <= 1; j++ {
		gx += (at(1, j) - at(-1, j)) / 6
		gy += (at(j, 1) - at(j, -1)) / 6
		xx += (at(1, j) - 2*at(0, j) + at(-1, j)) / 3
		yy += (at(j, 1) - 2*at(j, 0) + at(j, -1)) / 3
	}
	xy = (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / 4
	d := xx*yy - xy*xy
	if d <= 0 || xx >= 0 {
		return 0, 0
	}
	dx, dy = (xy*gy-yy*gx)/d, (xy*gx-xx*gy)/d
	return min(max(dx, -1), 1), min(max(dy, -1), 1)
}

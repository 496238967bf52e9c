package register

import (
	"math"
	"slices"
	"sync"

	"threeply/proof/affine"
)

// patchSet is a set of textured patches of the key at one level, ready to be looked
// for in the other plates. It may be used by several goroutines.
type patchSet struct {
	key     *pyramid
	level   int
	tile    int // side of a patch
	reach   int // how far it is searched each way
	f       *fft
	taper   []float32 // weight of a pixel, along one side
	weight  float64   // of the whole patch
	patches []*patch
}

// patch is one patch of the key: a square rich in detail.
type patch struct {
	x, y  int     // first pixel at the level
	sharp float64 // what its weaker direction carries

	once   sync.Once
	q      edgeField // edge field less its mean
	energy float64   // Σ weight · |q|²

	turned   sync.Once
	spectrum []complex64

	lobed sync.Once
	wide  int // see lobe
}

// newPatchSet chooses about count patches at a level, for transforms of n pixels, a
// power of two: three quarters of n for the patch, the rest for the search. closest is
// how near they lie at the nearest, as a share of a patch.
func newPatchSet(d *detailed, key *pyramid, level, n, count int, closest float64) *patchSet {
	b := &patchSet{key: key, level: level}
	b.setTransform(n)
	b.patches = d.chooseSharpest(key, level, b.tile, count, closest)
	return b
}

// setTransform sets all that follows from the transform's length n.
func (b *patchSet) setTransform(n int) {
	b.f = newFFT(n)
	b.setTile(n * 3 / 4)
}

// setTile sets the side of a patch, and how far that leaves to search.
func (b *patchSet) setTile(side int) {
	b.tile, b.reach = side, (b.f.n-side)/2
	b.taper, b.weight = taper(side), 0
	for _, v := range b.taper {
		b.weight += float64(v)
	}
	b.weight *= b.weight
}

// taper is the weight of a pixel along the side of a patch.
func taper(side int) []float32 {
	out := make([]float32, side)
	for i := range out {
		out[i] = float32(math.Sin(math.Pi * (float64(i) + 0.5) / float64(side)))
	}
	return out
}

// wider is a set for patches as large at another level, to be searched for as far as
// transforms of n pixels allow. It holds none yet.
func (b *patchSet) wider(level, n int) *patchSet {
	return &patchSet{key: b.key, level: level, tile: b.tile, reach: (n - b.tile) / 2, f: newFFT(n), taper: b.taper, weight: b.weight}
}

// ready fills in what is only needed when the patch is looked for.
func (b *patchSet) ready(t *patch) {
	t.once.Do(func() {
		n, margin := b.tile, b.key.margin()
		all, stride := b.key.edgesWithin(&room{}, cutTones(b.key.levels[b.level], b.key.tone, t.x-margin, t.y-margin, n+2*margin, n+2*margin))
		mean := b.mean(all, stride)
		t.q = edgeField{n, n, make([]complex64, n*n)}
		for y := range n {
			row := t.q.v[y*n : (y+1)*n]
			copy(row, all[y*stride:])
			for x, v := range row {
				v -= mean
				c := b.taper[x] * b.taper[y]
				row[x] = v
				t.energy += float64(c * (real(v)*real(v) + imag(v)*imag(v)))
			}
		}
	})
}

// heart is the middle of what a patch shows, in pixels of its level: a coarse one may lie
// over an empty part of the picture, and be measured by what lies at its side. It is for
// patches that were looked for.
func (t *patch) heart() (x, y float64) {
	n := t.q.w
	weights := taper(n)
	var all, sx, sy float64
	for j, cy := range weights {
		for i, cx := range weights {
			v := t.q.v[j*n+i]
			w := float64(cx * cy * (real(v)*real(v) + imag(v)*imag(v)))
			all, sx, sy = all+w, sx+w*float64(i), sy+w*float64(j)
		}
	}
	if all == 0 {
		half := float64(n-1) / 2
		return float64(t.x) + half, float64(t.y) + half
	}
	return float64(t.x) + sx/all, float64(t.y) + sy/all
}

// transformed fills in what is only needed when the patch is searched for.
func (b *patchSet) transformed(t *patch) {
	b.ready(t)
	t.turned.Do(func() {
		n := b.tile
		t.spectrum = make([]complex64, b.f.n*b.f.n)
		for y := range n {
			for x := range n {
				t.spectrum[y*b.f.n+x] = t.q.v[y*n+x] * complex(b.taper[x]*b.taper[y], 0)
			}
		}
		b.f.rows(t.spectrum, n, b.f.n)
	})
}

// mean is the weighted mean of a patch; stride is the length of a row of v.
func (b *patchSet) mean(v []complex64, stride int) complex64 {
	var re, im float64
	for y, cy := range b.taper {
		var sr, si float32
		row := v[y*stride : y*stride+b.tile]
		for x, c := range b.taper {
			sr += c * real(row[x])
			si += c * imag(row[x])
		}
		re += float64(cy * sr)
		im += float64(cy * si)
	}
	return complex(float32(re/b.weight), float32(im/b.weight))
}

// corners sums the structure tensor of a plane's edge field over squares.
type corners struct {
	w      int
	length []float64
	turned []complex128
}

func newCorners(q edgeField) corners {
	w, h := q.w+1, q.h+1
	c := corners{w, make([]float64, w*h), make([]complex128, w*h)}
	for y := range q.h {
		var a float64
		var b complex128
		for x := range q.w {
			v := complex128(q.v[y*q.w+x])
			a += math.Sqrt(real(v)*real(v) + imag(v)*imag(v))
			b += v
			c.length[(y+1)*w+x+1] = c.length[y*w+x+1] + a
			c.turned[(y+1)*w+x+1] = c.turned[y*w+x+1] + b
		}
	}
	return c
}

// weaker is the smaller eigenvalue of the tensor in the square of side t at
// (x, y), a pixel: (Σ|q| - |Σq|) / 2t².
func (c corners) weaker(x, y, t int) float64 {
	n, m := y*c.w+x, (y+t)*c.w+x
	all := c.length[m+t] - c.length[n+t] - c.length[m] + c.length[n]
	v := c.turned[m+t] - c.turned[n+t] - c.turned[m] + c.turned[n]
	return (all - math.Hypot(real(v), imag(v))) / float64(2*t*t)
}

// chooseSharpest takes the sharpest place in each cell of a grid of about count cells
// over the key's area, none of a side below closest of the tile's, where it carries at least a twentieth of what the best tenth
// of the cells does.
func (d *detailed) chooseSharpest(key *pyramid, level, tile, count int, closest float64) []*patch {
	lc := max(level, d.level)
	p := key.levels[lc]
	scale := 1 << (lc - level)
	t := max(tile/scale, 4)
	to := affine.ToLevel(lc)
	x0f, y0f := to.Apply(key.area[0], key.area[1])
	x1f, y1f := to.Apply(key.area[2], key.area[3])
	x0, y0 := max(int(math.Ceil(x0f)), 0), max(int(math.Ceil(y0f)), 0)
	x1, y1 := min(int(x1f)+1, p.W)-t, min(int(y1f)+1, p.H)-t
	if x1 < x0 || y1 < y0 {
		return nil
	}
	c := d.corners
	if lc != d.level {
		c = newCorners(edges(cutTones(p, key.tone, 0, 0, p.W, p.H)))
	}
	across, down := x1-x0+t, y1-y0+t
	cell := max(math.Sqrt(float64(across*down)/float64(count)), float64(t)*closest)
	nx, ny := max(int(float64(across)/cell), 1), max(int(float64(down)/cell), 1)
	step := max(t/8, 1)
	var out []*patch
	var sharps []float64
	for j := range ny {
		for i := range nx {
			best := &patch{sharp: -1}
			for y := y0 + (y1-y0)*j/ny; y <= y0+(y1-y0)*(j+1)/ny; y += step {
				for x := x0 + (x1-x0)*i/nx; x <= x0+(x1-x0)*(i+1)/nx; x += step {
					if s := c.weaker(x, y, t); s > best.sharp {
						best.x, best.y, best.sharp = x, y, s
					}
				}
			}
			full := key.levels[level]
			best.x, best.y = min(best.x*scale, full.W-tile), min(best.y*scale, full.H-tile)
			if best.x >= 0 && best.y >= 0 {
				out = append(out, best)
				sharps = append(sharps, best.sharp)
			}
		}
	}
	if len(out) == 0 {
		return nil
	}
	slices.Sort(sharps)
	least := 0.05*sharps[len(sharps)*9/10] + 1e-9
	return slices.DeleteFunc(out, func(t *patch) bool { return t.sharp < least })
}

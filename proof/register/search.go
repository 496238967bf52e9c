package register

import (
	"math"

	"threeply/proof/affine"
)

// lattice is a whole plate reduced to a small square frame, for the search of
// the map that the patches then refine.
type lattice struct {
	f     *fft
	side  int // longest side of the picture; the frame is twice as long
	level int // of the key
	w, h  int
	key   []complex64 // spectrum of the key's edge field
	mask  []complex64 // spectrum of |field|² + i·mask
}

// newLattice prepares the key at the level that is at most side pixels long.
func newLattice(key *sheet, side int) *lattice {
	n := 16
	for n < side*3/2 {
		n *= 2
	}
	t := &lattice{f: newFFT(n), side: side, level: key.levelFor(side)}
	p := key.levels[t.level]
	t.w, t.h = p.W, p.H
	q, in := t.edges(cut(p, key.tone, 0, 0, p.W, p.H), key, affine.Identity)
	t.key, t.mask = t.spectra(q, in)
	return t
}

// edges is the evened edge field of a picture in the key's frame, zero outside
// the area that s has under m, and that area as a mask.
func (t *lattice) edges(pic picture, s *sheet, m affine.Matrix) (vectors, []float32) {
	blur(pic)
	q := edges(pic)
	even(q, max(t.side/16, 3))
	in := make([]float32, len(q.v))
	full := m.Mul(from(t.level))
	for y := range q.h {
		for x := range q.w {
			if fx, fy := full.Apply(float64(x), float64(y)); s.has(fx, fy) {
				in[y*q.w+x] = 1
			} else {
				q.v[y*q.w+x] = 0
			}
		}
	}
	return q, in
}

func (t *lattice) spectra(q vectors, in []float32) (field, mask []complex64) {
	n := t.f.n
	field, mask = make([]complex64, n*n), make([]complex64, n*n)
	for y := range min(q.h, n) {
		for x := range min(q.w, n) {
			v := q.v[y*q.w+x]
			field[y*n+x] = v
			mask[y*n+x] = complex(real(v)*real(v)+imag(v)*imag(v), in[y*q.w+x])
		}
	}
	t.f.transform(field)
	t.f.transform(mask)
	return field, mask
}

// peak is a place where the whole plate fits: the full-size map and its score.
type peak struct {
	m     affine.Matrix
	score float64
}

// shifts looks for the shifts that, after m, bring the plate onto the key:
// at most count of them, best first. The correlation is divided by the energy
// of both fields where they overlap (D. Padfield, IEEE Trans. Image Process.
// 21 (2012) 2706), and the overlap must be at least a third of the key.
func (t *lattice) shifts(s *sheet, m affine.Matrix, count int) []peak {
	n := t.f.n
	pic, _ := s.warp(m, t.level, 0, 0, t.w, t.h)
	q, in := t.edges(pic, s, m)
	field, mask := t.spectra(q, in)
	t.f.correlate(t.key, field)
	ek, ep, lap := t.overlaps(mask)
	most := 0.0
	for _, v := range lap {
		most = max(most, v)
	}
	score := make([]float64, n*n)
	for i := range score {
		if lap[i] > 0.45*most {
			score[i] = float64(real(field[i])) / math.Sqrt(max(ek[i], 0)*max(ep[i], 0)+1e-3) * math.Sqrt(lap[i]/most)
		}
	}
	var out []peak
	for range count {
		at, best := -1, 0.0
		for i, v := range score {
			if v > best {
				at, best = i, v
			}
		}
		if at < 0 {
			break
		}
		dx, dy := at%n, at/n
		for j := -3; j <= 3; j++ {
			for i := -3; i <= 3; i++ {
				score[(dy+j+n)%n*n+(dx+i+n)%n] = 0
			}
		}
		if dx > n/2 {
			dx -= n
		}
		if dy > n/2 {
			dy -= n
		}
		shift := from(t.level).Mul(affine.Translate(float64(dx), float64(dy))).Mul(onto(t.level))
		out = append(out, peak{m.Mul(shift), best})
	}
	return out
}

// overlaps gives, for every shift, the energy of the key where the plate is,
// that of the plate where the key is, and the count of pixels where both are;
// all to the same unknown factor.
func (t *lattice) overlaps(mask []complex64) (ek, ep, both []float64) {
	n := t.f.n
	split := func(a []complex64, i int) (re, im complex64) {
		// The spectra of the real and the imaginary part of a field; (u, v)
		// and (-u, -v) sit at i and j also in a transposed spectrum.
		u, v := i/n, i%n
		b := a[(n-u)%n*n+(n-v)%n]
		b = complex(real(b), -imag(b))
		return (a[i] + b) / 2, (a[i] - b) * complex(0, -0.5)
	}
	first, second := make([]complex64, n*n), make([]complex64, n*n)
	conj := func(c complex64) complex64 { return complex(real(c), -imag(c)) }
	for i := range first {
		kr, ki := split(t.mask, i)
		pr, pi := split(mask, i)
		// A forward transform of K·conj(P) gives conj of the correlation, and
		// real fields have real correlations: two fit in one transform.
		first[i] = kr*conj(pi) + ki*conj(pr)*complex(0, 1)
		second[i] = ki * conj(pi)
	}
	t.f.transform(first)
	t.f.transform(second)
	ek, ep, both = make([]float64, n*n), make([]float64, n*n), make([]float64, n*n)
	for i := range ek {
		ek[i], ep[i], both[i] = float64(real(first[i])), float64(imag(first[i])), float64(real(second[i]))
	}
	return ek, ep, both
}

package register

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/affine"
)

// overview is the whole key reduced to a small frame, in which other plates are shifted
// over it to find roughly where they lie.
type overview struct {
	f     *fft
	w, h  int
	full  affine.Matrix // pixel of the overview → full-size pixel of the key
	small affine.Matrix // and back
	key   []complex64   // spectrum of the key's edge field
	mask  []complex64   // spectrum of |field|² + i·mask
}

// newOverview takes the transform's length n, a power of two. The longer side of the
// picture takes two thirds of it, so that it can be shifted by a third and more before
// the other end of the transform comes in.
func newOverview(key *pyramid, n int) *overview {
	p := key.levels[0]
	s := min(float64(n)*0.66/float64(max(p.W, p.H)), 1)
	t := &overview{f: newFFT(n), w: max(int(s*float64(p.W)), 3), h: max(int(s*float64(p.H)), 3)}
	t.small = affine.Resized(s)
	t.full = affine.Resized(1 / s)
	q, in := t.field(key, t.full, t.w, t.h)
	t.key, t.mask = t.transform(q), t.masks(q, in)
	return t
}

// field is the evened edge field of a plate in w × h pixels of the overview, zero outside
// its area, and that area as a mask. m takes the overview's pixels to the plate's.
func (t *overview) field(s *pyramid, m affine.Matrix, w, h int) (edgeField, []float32) {
	var r room
	pic := s.warp(&r, m, w, h, bilinear)
	blur(&r, pic)
	q := edgesOf(&r, pic, false)
	even(q, max(max(w, h)/16, 3))
	in := make([]float32, len(q.v))
	for y := range q.h {
		for x := range q.w {
			if fx, fy := m.Apply(float64(x), float64(y)); s.has(fx, fy) {
				in[y*q.w+x] = 1
			} else {
				q.v[y*q.w+x] = 0
			}
		}
	}
	return q, in
}

func (t *overview) transform(q edgeField) []complex64 {
	out := make([]complex64, t.f.n*t.f.n)
	for y := range q.h {
		copy(out[y*t.f.n:], q.v[y*q.w:(y+1)*q.w])
	}
	t.f.rows(out, q.h, t.f.n)
	return out
}

func (t *overview) masks(q edgeField, in []float32) []complex64 {
	out := make([]complex64, t.f.n*t.f.n)
	for y := range q.h {
		for x := range q.w {
			v := q.v[y*q.w+x]
			out[y*t.f.n+x] = complex(real(v)*real(v)+imag(v)*imag(v), in[y*q.w+x])
		}
	}
	t.f.rows(out, q.h, t.f.n)
	return out
}

// hypothesis is a map under which the whole plate fits the key, and how well.
type hypothesis struct {
	m     affine.Matrix
	score float64
}

// bestShifts looks for the shifts that, after m, bring the plate onto the key: at most
// count of them, best first.
func (t *overview) bestShifts(s *pyramid, m affine.Matrix, count int) []hypothesis {
	return t.peaks(m, t.scores(s, m), count)
}

// scores is how well the plate, after m, fits the key at every shift, row by row of the
// transform. The correlation is divided by the energy of both fields where they overlap
// (D. Padfield, IEEE Trans. Image Process. 21 (2012) 2706), and counted for less the
// smaller that overlap is: with a corner alone much agrees.
func (t *overview) scores(s *pyramid, m affine.Matrix) []float64 {
	q, in := t.field(s, m.Mul(t.full), t.w, t.h)
	corr := t.transform(q)
	t.f.correlate(t.key, corr, t.f.n)
	ek, ep, lap := t.overlaps(t.masks(q, in))
	const (
		leastOverlap = 0.4  // of the largest possible
		little       = 0.05 // of the most energy that an overlap holds: with less it fits anything
	)
	most, mostKey, mostOther := 1e-6, 1e-6, 1e-6
	for i, v := range lap {
		most, mostKey, mostOther = max(most, v), max(mostKey, ek[i]), max(mostOther, ep[i])
	}
	score := make([]float64, len(corr))
	for i := range score {
		if lap[i] > leastOverlap*most {
			score[i] = float64(real(corr[i])) / math.Sqrt(max(ek[i], little*mostKey)*max(ep[i], little*mostOther)) * math.Sqrt(lap[i]/most)
		}
	}
	return score
}

// periods are the shifts at which the key fits itself, likeliest first: at most count
// that no neighbouring shift betters. Most pictures without ornament have none; long
// edges and borders make some, which the patches then refute.
func (t *overview) periods(key *pyramid, count int) []affine.Matrix {
	const (
		alike = 0.25 // the least fit, 1 where the key lies on itself
		still = 5    // pixels of the overview that the fit where it lies reaches out
	)
	score, n := t.scores(key, affine.Identity), t.f.n
	type place struct {
		dx, dy int
		score  float64
	}
	var all []place
	for i, v := range score {
		dx, dy := (i%n+n/2)%n-n/2, (i/n+n/2)%n-n/2
		if v < alike || dx*dx+dy*dy < still*still {
			continue
		}
		top := true
		for j := -1; j <= 1; j++ {
			for k := -1; k <= 1; k++ {
				top = top && score[(dy+j+n)%n*n+(dx+k+n)%n] <= v
			}
		}
		if top {
			all = append(all, place{dx, dy, v})
		}
	}
	slices.SortStableFunc(all, func(a, b place) int { return cmp.Compare(b.score, a.score) })
	var out []affine.Matrix
	for _, p := range all[:min(len(all), count)] {
		out = append(out, t.full.Mul(affine.Translate(float64(p.dx), float64(p.dy))).Mul(t.small))
	}
	return out
}

// peaks takes the count highest of score, each the shift's own place in the transform,
// and leaves out what lies within three pixels of one that it has taken.
func (t *overview) peaks(m affine.Matrix, score []float64, count int) []hypothesis {
	n := t.f.n
	var out []hypothesis
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
		shift := t.full.Mul(affine.Translate(float64(dx), float64(dy))).Mul(t.small)
		out = append(out, hypothesis{m.Mul(shift), best})
	}
	return out
}

// overlaps gives, for every shift, the energy of the key where the plate is,
// that of the plate where the key is, and the count of pixels where both are;
// all to the same factor.
func (t *overview) overlaps(mask []complex64) (ek, ep, both []float64) {
	n := t.f.n
	conj := func(c complex64) complex64 { return complex(real(c), -imag(c)) }
	// The spectra of a field's real and imaginary part, from those of the
	// whole at (u, v) and (-u, -v).
	split := func(a []complex64, i int) (re, im complex64) {
		b := conj(a[(n-i/n)%n*n+(n-i%n)%n])
		return (a[i] + b) / 2, (a[i] - b) * complex(0, -0.5)
	}
	first, second := make([]complex64, n*n), make([]complex64, n*n)
	for i := range first {
		kr, ki := split(t.mask, i)
		pr, pi := split(mask, i)
		// Both correlations are real, so that one transform holds two.
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

package register

import (
	"math"
	"math/bits"
)

// fft is a forward discrete Fourier transform of n × n complex fields, n a
// power of two. The inverse is not needed: the cross-correlation of two real
// vector fields is the real part of a forward transform of a product, see
// correlate.
type fft struct {
	n      int
	rev    []int32
	stages [][][3]complex64 // of radix 4, from the second on: for k < h the factors of the elements k + h, k + 2h and k + 3h
	turn   []complex64      // exp(-2πik/n), k < n/2: of the last stage, of radix 2, where the stages are odd in number
}

func newFFT(n int) *fft {
	f := &fft{n: n, rev: make([]int32, n)}
	shift := 64 - bits.Len(uint(n-1))
	for i := range n {
		f.rev[i] = int32(bits.Reverse64(uint64(i)) >> shift)
	}
	root := func(k, of int) complex64 {
		sin, cos := math.Sincos(-2 * math.Pi * float64(k) / float64(of))
		return complex(float32(cos), float32(sin))
	}
	h := 1
	for ; 4*h <= n; h *= 4 {
		stage := make([][3]complex64, h)
		for k := range stage {
			stage[k] = [3]complex64{root(k, 2*h), root(k, 4*h), root(3*k, 4*h)}
		}
		if h > 1 {
			f.stages = append(f.stages, stage)
		}
	}
	if h < n {
		for k := range n / 2 {
			f.turn = append(f.turn, root(k, n))
		}
	}
	return f
}

// times is a·b: Go's own product also looks for infinities.
func times(a, b complex64) complex64 {
	return complex(real(a)*real(b)-imag(a)*imag(b), real(a)*imag(b)+imag(a)*real(b))
}

func timesMinusI(a complex64) complex64 { return complex(imag(a), -real(a)) }

// line transforms n values in place by decimation in time, two of its steps at once.
func (f *fft) line(a []complex64) {
	for i, r := range f.rev {
		if j := int(r); i < j {
			a[i], a[j] = a[j], a[i]
		}
	}
	if f.n >= 4 { // the first stage's factors are all 1
		for b := a; len(b) >= 4; b = b[4:] {
			sum, difference := b[0]+b[1], b[0]-b[1]
			even, odd := b[2]+b[3], timesMinusI(b[2]-b[3])
			b[0], b[1], b[2], b[3] = sum+even, difference+odd, sum-even, difference-odd
		}
	}
	for _, stage := range f.stages {
		h := len(stage)
		for b := a; len(b) >= 4*h; b = b[4*h:] {
			a0, a1, a2, a3 := b[:h], b[h:2*h], b[2*h:3*h], b[3*h:4*h]
			a1, a2, a3 = a1[:len(a0)], a2[:len(a0)], a3[:len(a0)]
			for k, w := range stage[:len(a0)] {
				p, q, r := times(w[0], a1[k]), times(w[1], a2[k]), times(w[2], a3[k])
				sum, difference := a0[k]+p, a0[k]-p
				even, odd := q+r, timesMinusI(q-r)
				a0[k], a1[k], a2[k], a3[k] = sum+even, difference+odd, sum-even, difference-odd
			}
		}
	}
	if len(f.turn) > 0 {
		lo, hi := a[:f.n/2], a[f.n/2:f.n]
		hi = hi[:len(lo)]
		for k, w := range f.turn[:len(lo)] {
			v := times(w, hi[k])
			lo[k], hi[k] = lo[k]+v, lo[k]-v
		}
	}
}

// transform turns the field into its transposed spectrum in place, a
// transposed spectrum into a field.
func (f *fft) transform(a []complex64) { f.rows(a, f.n, f.n) }

// rows is transform of a field that is 0 from row filled on, of which only the first
// wanted rows are needed; the others are left unfinished.
func (f *fft) rows(a []complex64, filled, wanted int) {
	n := f.n
	for y := range filled {
		f.line(a[y*n : (y+1)*n])
	}
	const block = 8 // lines of a square that the processor's cache holds at once
	for y0 := 0; y0 < n; y0 += block {
		for x0 := y0; x0 < n; x0 += block {
			for y := y0; y < min(y0+block, n); y++ {
				for x := max(x0, y+1); x < min(x0+block, n); x++ {
					a[y*n+x], a[x*n+y] = a[x*n+y], a[y*n+x]
				}
			}
		}
	}
	for y := range wanted {
		f.line(a[y*n : (y+1)*n])
	}
}

// correlate overwrites p, a spectrum, so that the real part at (x, y) is
//
//	n² · Σ k(u)·p(u + (x, y)),
//
// the circular cross-correlation of the fields behind the spectra k and p,
// each complex value taken as a vector of two. Only y < rows is computed.
func (f *fft) correlate(k, p []complex64, rows int) {
	for i, v := range p {
		p[i] = times(k[i], complex(real(v), -imag(v)))
	}
	f.rows(p, f.n, rows)
}

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
	n    int
	rev  []int32
	turn []complex64 // exp(-2πik/n), k < n/2
}

func newFFT(n int) *fft {
	f := &fft{n: n, rev: make([]int32, n), turn: make([]complex64, n/2)}
	shift := 64 - bits.Len(uint(n-1))
	for i := range n {
		f.rev[i] = int32(bits.Reverse64(uint64(i)) >> shift)
	}
	for k := range n / 2 {
		sin, cos := math.Sincos(-2 * math.Pi * float64(k) / float64(n))
		f.turn[k] = complex(float32(cos), float32(sin))
	}
	return f
}

// line transforms n values in place: radix 2, decimation in time.
func (f *fft) line(a []complex64) {
	for i, r := range f.rev {
		if j := int(r); i < j {
			a[i], a[j] = a[j], a[i]
		}
	}
	for i := 0; i < f.n; i += 2 {
		u, v := a[i], a[i+1]
		a[i], a[i+1] = u+v, u-v
	}
	for half := 2; half < f.n; half *= 2 {
		step := f.n / (2 * half)
		for i := 0; i < f.n; i += 2 * half {
			lo, hi := a[i:i+half], a[i+half:i+2*half]
			for k := range lo {
				w, v := f.turn[k*step], hi[k]
				re := real(w)*real(v) - imag(w)*imag(v)
				im := real(w)*imag(v) + imag(w)*real(v)
				t := complex(re, im)
				lo[k], hi[k] = lo[k]+t, lo[k]-t
			}
		}
	}
}

// transform turns the field into its transposed spectrum in place, a
// transposed spectrum into a field.
func (f *fft) transform(a []complex64) { f.first(a, f.n) }

// first is transform, of which only the first rows are wanted; the others are
// left unfinished.
func (f *fft) first(a []complex64, rows int) {
	n := f.n
	for y := range n {
		f.line(a[y*n : (y+1)*n])
	}
	for y := range n {
		for x := y + 1; x < n; x++ {
			a[y*n+x], a[x*n+y] = a[x*n+y], a[y*n+x]
		}
	}
	for y := range rows {
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
		p[i] = k[i] * complex(real(v), -imag(v))
	}
	f.first(p, rows)
}

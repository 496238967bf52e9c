package register

import (
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// TestTransformAgreesWithGonum takes gonum's one-dimensional transform, along
// rows and then columns, as the oracle.
func TestTransformAgreesWithGonum(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	var worst float64
	for _, n := range []int{2, 4, 16, 64, 128} {
		a := make([]complex64, n*n)
		want := make([]complex128, n*n)
		for i := range a {
			a[i] = complex(rnd.Float32()-0.5, rnd.Float32()-0.5)
			want[i] = complex128(a[i])
		}
		plan := fourier.NewCmplxFFT(n)
		for y := range n {
			plan.Coefficients(want[y*n:(y+1)*n], want[y*n:(y+1)*n])
		}
		column := make([]complex128, n)
		for x := range n {
			for y := range n {
				column[y] = want[y*n+x]
			}
			plan.Coefficients(column, column)
			for y := range n {
				want[y*n+x] = column[y]
			}
		}
		newFFT(n).transform(a)
		for y := range n {
			for x := range n {
				worst = max(worst, cmplx.Abs(complex128(a[x*n+y])-want[y*n+x])/float64(n))
			}
		}
	}
	t.Logf("largest error %.2g of the spectrum's scale", worst)
	if worst > 1e-6 {
		t.Errorf("largest error %g", worst)
	}
}

// TestCorrelateIsTheSumItSays compares with the sum written out.
func TestCorrelateIsTheSumItSays(t *testing.T) {
	const n = 8
	rnd := rand.New(rand.NewPCG(3, 4))
	k, p := make([]complex64, n*n), make([]complex64, n*n)
	for i := range k {
		k[i], p[i] = complex(rnd.Float32(), rnd.Float32()), complex(rnd.Float32(), rnd.Float32())
	}
	f := newFFT(n)
	ks, ps := append([]complex64(nil), k...), append([]complex64(nil), p...)
	f.transform(ks)
	f.transform(ps)
	const rows = 5
	f.correlate(ks, ps, rows)
	for dy := range rows {
		for dx := range n {
			var want float64
			for y := range n {
				for x := range n {
					a, b := k[y*n+x], p[(y+dy)%n*n+(x+dx)%n]
					want += float64(real(a)*real(b) + imag(a)*imag(b))
				}
			}
			if got := float64(real(ps[dy*n+dx])) / (n * n); got-want > 1e-4 || want-got > 1e-4 {
				t.Errorf("at %d, %d: %g, want %g", dx, dy, got, want)
			}
		}
	}
}

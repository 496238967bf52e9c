package stack

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// oracle is Kubelka's film in 400 bits by the power series of sinh(z)/z and
// cosh z in z² = K(K+2S)X², which needs no root and no limit: slow, obvious
// and exact.
func oracle(k, s, x float64) (r, t float64) {
	f := func(v float64) *big.Float { return new(big.Float).SetPrec(400).SetFloat64(v) }
	mul := func(a, b *big.Float) *big.Float { return f(0).Mul(a, b) }
	add := func(a, b *big.Float) *big.Float { return f(0).Add(a, b) }
	kx, sx := mul(f(k), f(x)), mul(f(s), f(x))
	z2 := mul(kx, add(kx, add(sx, sx)))
	sh, ch, term := f(0), f(0), f(1)
	for n := 0; n < 1000; n += 2 {
		ch = add(ch, term)
		term = f(0).Quo(term, f(float64(n+1)))
		sh = add(sh, term)
		term = f(0).Quo(mul(term, z2), f(float64(n+2)))
	}
	d := add(ch, mul(add(kx, sx), sh))
	r, _ = f(0).Quo(mul(sx, sh), d).Float64()
	t, _ = f(0).Quo(f(1), d).Float64()
	return r, t
}

func TestFilmAgainstSeries(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	any := func() float64 {
		if rnd.IntN(6) == 0 {
			return 0
		}
		return math.Pow(10, -18+20*rnd.Float64())
	}
	worst := 0.0
	for range 300 {
		k, s, x := any(), any(), math.Pow(10, -6+6.5*rnd.Float64())
		if math.Sqrt(k*(k+2*s))*x > 300 {
			continue
		}
		r, tr := Film(k, s, x)
		wantR, wantT := oracle(k, s, x)
		for _, c := range [][2]float64{{r, wantR}, {tr, wantT}} {
			if c[1] == 0 {
				if c[0] != 0 {
					t.Errorf("K %g S %g X %g: %g, want 0", k, s, x, c[0])
				}
				continue
			}
			off := math.Abs(c[0]/c[1] - 1)
			worst = max(worst, off)
			if !(off < 2e-13) {
				t.Errorf("K %g S %g X %g: %.17g, want %.17g", k, s, x, c[0], c[1])
			}
		}
	}
	t.Logf("largest relative error %.2g", worst)
}

// The limits of P. Kubelka, JOSA 38 (1948) 448.
func TestFilmLimits(t *testing.T) {
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-12*max(1, want)) {
			t.Errorf("%s: %.17g, want %.17g", what, got, want)
		}
	}
	for _, x := range []float64{0, 1e-300, 1e-9, 0.5, 1, 40, 1e6} {
		for _, v := range []float64{0, 1e-300, 1e-12, 0.3, 2.3, 50} {
			r, tr := Film(0, v, x)
			near("clear and scattering R", r, v*x/(1+v*x))
			near("clear and scattering T", tr, 1/(1+v*x))
			r, tr = Film(v, 0, x)
			near("not scattering R", r, 0)
			near("not scattering T", tr, math.Exp(-v*x))
			if x == 0 {
				r, tr = Film(v, v, 0)
				near("no layer R", r, 0)
				near("no layer T", tr, 1)
			}
		}
	}
}

func TestEnergyIsNotCreated(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 10))
	draw := func() float64 { return math.Pow(10, -12+15*rnd.Float64()) }
	for range 20000 {
		k, s, x := draw(), draw(), draw()
		r, tr := Film(k, s, x)
		if !(r >= 0 && tr >= 0 && r+tr <= 1+1e-14) {
			t.Fatalf("K %g S %g X %g: R %v T %v", k, s, x, r, tr)
		}
	}
}

// Two films of half the thickness are one of the whole (P. Kubelka, JOSA 44,
// 1954, 330), whatever lies below.
func TestHalvesMakeAWhole(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	worst := 0.0
	for range 5000 {
		k, s, x, ground := 3*rnd.Float64(), rnd.Float64(), 3*rnd.Float64(), rnd.Float64()
		r, tr := Film(k, s, x)
		r2, t2 := Film(k, s, x/2)
		worst = max(worst, math.Abs(Over(r, tr, ground)-Over(r2, t2, Over(r2, t2, ground))))
	}
	t.Logf("largest difference %.2g", worst)
	if !(worst < 1e-14) {
		t.Error("halves do not make a whole")
	}
}

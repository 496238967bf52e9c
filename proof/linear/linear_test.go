package linear

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Random systems of one to seven unknowns against a general-purpose library.
func TestSolveAgainstALibrary(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	worst := 0.0
	for n := 1; n <= 7; n++ {
		for sides := 1; sides <= 3; sides++ {
			for range 200 {
				a, b := make([]float64, n*n), make([]float64, n*sides)
				for i := range a {
					a[i] = rnd.NormFloat64() * math.Exp2(float64(rnd.IntN(20)-10))
				}
				for i := range b {
					b[i] = rnd.NormFloat64()
				}
				left := mat.NewDense(n, n, append([]float64(nil), a...))
				right := mat.NewDense(n, sides, append([]float64(nil), b...))
				var want mat.Dense
				if err := want.Solve(left, right); err != nil || mat.Cond(left, 1) > 1e8 {
					continue // so near to singular that neither is right
				}
				if !Solve(a, b, 0) {
					t.Fatalf("%d unknowns: no solution of %v", n, mat.Formatted(left))
				}
				for i, x := range b {
					w := want.At(i/sides, i%sides)
					worst = max(worst, math.Abs(x-w)/(1e-3+math.Abs(w)))
				}
			}
		}
	}
	t.Logf("largest error %.2g", worst)
	if worst > 1e-6 {
		t.Errorf("largest error %.2g", worst)
	}
}

// What has no solution, or none that can be told from noise, is refused.
func TestSolveRefusesTheSingular(t *testing.T) {
	for name, a := range map[string][]float64{
		"zero":           {0, 0, 0, 0},
		"two equal rows": {1, 2, 1, 2},
		"on a line":      {1, 1, 1, 1 + 1e-9},
		"not a number":   {math.NaN(), 0, 0, 1},
		"endless":        {math.Inf(1), 0, 0, 1},
	} {
		if Solve(a, []float64{1, 2}, 1e-6) {
			t.Errorf("%s: solved", name)
		}
	}
	if b := []float64{3, 4}; !Solve([]float64{0, 1, 1, 0}, b, 0) || b[0] != 4 || b[1] != 3 {
		t.Errorf("rows that must be exchanged: %v", b)
	}
}

func TestSolveWantsASquare(t *testing.T) {
	for _, c := range [][2]int{{2, 1}, {4, 3}, {0, 0}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%d values and %d right sides pass", c[0], c[1])
				}
			}()
			Solve(make([]float64, c[0]), make([]float64, c[1]), 0)
		}()
	}
}

// Moments of random points against a general-purpose library.
func TestSymmetricAgainstALibrary(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	worst := 0.0
	off := func(got, want float64) { worst = max(worst, math.Abs(got-want)/(1+math.Abs(want))) }
	for range 500 {
		var s Symmetric
		moments := mat.NewSymDense(2, nil)
		for range 3 + rnd.IntN(5) {
			w, x, y := rnd.Float64()+0.1, rnd.NormFloat64(), rnd.NormFloat64()
			s.Add(w, x, y)
			moments.SymRankOne(moments, w, mat.NewVecDense(2, []float64{x, y}))
		}
		var inverse mat.Dense
		if err := inverse.Inverse(moments); err != nil {
			continue
		}
		off(s.Det(), mat.Det(moments))
		in := s.Inverse()
		off(in.XX, inverse.At(0, 0))
		off(in.XY, inverse.At(0, 1))
		off(in.YY, inverse.At(1, 1))
		x, y := rnd.NormFloat64(), rnd.NormFloat64()
		p := mat.NewVecDense(2, []float64{x, y})
		var solved mat.VecDense
		solved.MulVec(&inverse, p)
		u, v := s.Solve(x, y)
		off(u, solved.AtVec(0))
		off(v, solved.AtVec(1))
		off(s.Form(x, y), mat.Inner(p, &inverse, p))
	}
	t.Logf("largest error %.2g", worst)
	if worst > 1e-7 {
		t.Errorf("largest error %.2g", worst)
	}
	line := Symmetric{1, 2, 4}
	if u, _ := line.Solve(1, 1); !math.IsInf(u, 0) && !math.IsNaN(u) {
		t.Errorf("points on a line give %g", u)
	}
}

// BenchmarkSolve is six equations, as a weighted affine map leads to.
func BenchmarkSolve(b *testing.B) {
	var a [36]float64
	var x [6]float64
	b.ReportAllocs()
	for b.Loop() {
		for i := range a {
			a[i] = float64((i*7 + 3) % 11)
		}
		for i := range 6 {
			a[i*7] += 20
			x[i] = float64(i)
		}
		Solve(a[:], x[:], 1e-4)
	}
}

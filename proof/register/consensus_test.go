package register

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/linear"
)

func voters(m affine.Matrix, n, liars int, noise float64) []measured {
	rnd := rand.New(rand.NewPCG(uint64(n), 9))
	var out []measured
	for i := range n {
		p := measured{x: rnd.Float64() * 700, y: rnd.Float64() * 500, precision: linear.Symmetric{XX: 1, YY: 1}, score: 0.7, settled: true}
		x, y := m.Apply(p.x, p.y)
		p.dx, p.dy = x-p.x+rnd.NormFloat64()*noise, y-p.y+rnd.NormFloat64()*noise
		if i < liars {
			p.dx, p.dy = rnd.Float64()*16-8, rnd.Float64()*16-8
		}
		out = append(out, p)
	}
	return out
}

// TestConsensusOutvotes holds the fit to the truth while more and more patches
// say anything at all.
func TestConsensusOutvotes(t *testing.T) {
	want := affine.Matrix{1.003, 0.002, 1.5, -0.004, 0.998, -2.25}
	for _, liars := range []int{0, 20, 40, 55} {
		got, ok := consensus(voters(want, 80, liars, 0.1), 1.5, 0.05)
		if !ok {
			t.Fatalf("%d of 80 lie: no consensus", liars)
		}
		rms, worst := errorsOf(got, want, 700, 500)
		t.Logf("%d of 80 lie: rms %.3f, worst %.3f px", liars, rms, worst)
		if worst > 0.25 {
			t.Errorf("%d of 80 lie: worst %.3f px", liars, worst)
		}
	}
}

// TestSolveTrustsEachPatchWhereItIsSharp gives patches that lie on upright
// edges and know nothing of y, and others that know nothing of x.
func TestSolveTrustsEachPatchWhereItIsSharp(t *testing.T) {
	want := affine.Matrix{1.01, 0.003, -3, 0.002, 0.99, 4}
	list := voters(want, 40, 0, 0)
	for i := range list {
		if i%2 == 0 {
			list[i].dy += 3
			list[i].precision = linear.Symmetric{XX: 1, YY: 1e-9}
		} else {
			list[i].dx -= 2
			list[i].precision = linear.Symmetric{XX: 1e-9, YY: 1}
		}
	}
	got, ok := solve(list, nil)
	if _, worst := errorsOf(got, want, 700, 500); !ok || worst > 1e-3 {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestSolveRefusesALine(t *testing.T) {
	var list []measured
	for i := range 9 {
		list = append(list, measured{x: float64(i) * 10, y: float64(i) * 20, precision: linear.Symmetric{XX: 1, YY: 1}})
	}
	for name, l := range map[string][]measured{"a line": list, "one point": {list[1], list[1], list[1]}, "two": list[:2], "none": nil} {
		if m, ok := solve(l, nil); ok {
			t.Errorf("%s gives %v", name, m)
		}
	}
}

func TestPlausible(t *testing.T) {
	for _, c := range []struct {
		m    affine.Matrix
		want bool
	}{
		{affine.Identity, true}, {affine.Scale(-1, 1), true}, {affine.Scale(0.8, 0.81), true}, {affine.Matrix{0, -1.25, 9, 1.25, 0, 9}, true},
		{affine.Scale(1, 1.1), false}, {affine.Scale(3, 3), false}, {affine.Matrix{1, 0.1, 0, 0, 1, 0}, false}, {affine.Matrix{}, false}, {affine.Matrix{math.NaN(), 0, 0, 0, 1, 0}, false},
	} {
		if plausible(c.m) != c.want {
			t.Errorf("%v: %v", c.m, !c.want)
		}
	}
}

package affine

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near(a, b Matrix, tol float64) bool {
	for i := range a {
		if !(math.Abs(a[i]-b[i]) <= tol) {
			return false
		}
	}
	return true
}

func TestInverseAndDecomposeRoundTrip(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		p := Parts{
			DX: rnd.NormFloat64() * 50, DY: rnd.NormFloat64() * 50, Turn: rnd.Float64()*360 - 180,
			StretchX: 0.5 + rnd.Float64(), StretchY: 0.5 + rnd.Float64(), Shear: rnd.NormFloat64() * 0.2,
		}
		if rnd.IntN(4) == 0 {
			p.StretchY = -p.StretchY
		}
		cx, cy := rnd.Float64()*4000, rnd.Float64()*3000
		m := Compose(p, cx, cy)
		if got := Compose(m.Decompose(cx, cy), cx, cy); !near(got, m, 1e-8) {
			t.Fatalf("%+v comes back as %v, not %v", p, got, m)
		}
		inv, ok := m.Inverse()
		if !ok || !near(inv.Mul(m), Identity, 1e-7) {
			t.Fatalf("inverse of %v: %v", m, inv.Mul(m))
		}
	}
}

func TestTurnIsClockwiseOnTheScreen(t *testing.T) {
	x, y := Compose(Parts{Turn: 90, StretchX: 1, StretchY: 1}, 0, 0).Apply(1, 0)
	if math.Abs(x) > 1e-12 || math.Abs(y-1) > 1e-12 {
		t.Errorf("right goes to (%g, %g), want down", x, y)
	}
}

func TestInverseRefusesASingularMap(t *testing.T) {
	for _, m := range []Matrix{{1, 2, 0, 2, 4, 0}, {math.NaN(), 0, 0, 0, 1, 0}, {}} {
		if _, ok := m.Inverse(); ok {
			t.Errorf("%v has an inverse", m)
		}
	}
}

func TestLevelsAndBack(t *testing.T) {
	for l := range 5 {
		if x, y := ToLevel(l).Mul(FromLevel(l)).Apply(10.25, -3); x != 10.25 || y != -3 {
			t.Errorf("level %d and back: %g, %g", l, x, y)
		}
	}
	// The corners of a picture of 12 × 8 pixels are those of its half, 6 × 4.
	for from, to := range map[[2]float64][2]float64{{-0.5, -0.5}: {-0.5, -0.5}, {11.5, 7.5}: {5.5, 3.5}} {
		if x, y := ToLevel(1).Apply(from[0], from[1]); x != to[0] || y != to[1] {
			t.Errorf("%v goes to %g, %g, not %v", from, x, y, to)
		}
	}
	if x, _ := Resized(3).Apply(-0.5, 0); x != -0.5 {
		t.Errorf("the edge of a picture of three times the size lies at %g", x)
	}
}

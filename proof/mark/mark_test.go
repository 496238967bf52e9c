package mark

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"threeply/proof/affine"
)

func pinned(m affine.Matrix, at ...[2]float64) []Mark {
	var out []Mark
	for _, p := range at {
		x, y := m.Apply(p[0], p[1])
		out = append(out, Mark{KeyX: p[0], KeyY: p[1], X: x, Y: y})
	}
	return out
}

func TestExactMarksGiveTheMapBack(t *testing.T) {
	at := [][2]float64{{100, 90}, {900, 120}, {870, 640}, {80, 600}, {500, 300}}
	for name, c := range map[string]struct {
		m, start affine.Matrix
		n        int
		kind     Kind
	}{
		"shift":               {affine.Translate(3.5, -8), affine.Identity, 1, Shift},
		"shift of a turned":   {affine.Matrix{0, -1, 700, 1, 0, 4}, affine.Matrix{0, -1, 690, 1, 0, 0}, 1, Shift},
		"similarity":          {affine.Compose(affine.Parts{Turn: 7, StretchX: 1.2, StretchY: 1.2}, 50, 60), affine.Identity, 2, Similarity},
		"mirrored similarity": {affine.Compose(affine.Parts{DX: 9, Turn: 187, StretchX: 0.9, StretchY: -0.9}, 50, 60), affine.Scale(1, -1), 2, Similarity},
		"affine":              {affine.Matrix{1.01, 0.02, 5, -0.03, 0.98, -7}, affine.Identity, 3, Affine},
		"affine of five":      {affine.Matrix{-1.01, 0.02, 5, -0.03, 0.98, -7}, affine.Identity, 5, Affine},
	} {
		f, err := Solve(pinned(c.m, at[:c.n]...), c.start)
		if err != nil || f.Kind != c.kind {
			t.Errorf("%s: kind %s, error %v", name, f.Kind, err)
			continue
		}
		for i := range f.Matrix {
			if math.Abs(f.Matrix[i]-c.m[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", name, f.Matrix, c.m)
				break
			}
		}
		for i, r := range f.Residual {
			if r > 1e-9 {
				t.Errorf("%s: mark %d is left with %g px", name, i, r)
			}
		}
	}
}

// TestLeastSquaresIsAMinimum moves the found map a little each way: the sum of
// weighted squares must not fall.
func TestLeastSquaresIsAMinimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var marks []Mark
		for range rapid.IntRange(3, 9).Draw(t, "marks") {
			f := func(name string) float64 { return rapid.Float64Range(0, 1000).Draw(t, name) }
			marks = append(marks, Mark{f("kx"), f("ky"), f("x"), f("y"), rapid.Float64Range(0.1, 5).Draw(t, "weight")})
		}
		f, err := Solve(marks, affine.Identity)
		if errors.Is(err, ErrPlace) {
			t.Skip("the marks lie on a line")
		}
		sum := func(m affine.Matrix) (s float64) {
			for _, k := range marks {
				x, y := m.Apply(k.KeyX, k.KeyY)
				s += k.weight() * ((x-k.X)*(x-k.X) + (y-k.Y)*(y-k.Y))
			}
			return s
		}
		least := sum(f.Matrix)
		for i, step := range [6]float64{1e-4, 1e-4, 1e-2, 1e-4, 1e-4, 1e-2} {
			for _, d := range [2]float64{step, -step} {
				m := f.Matrix
				m[i] += d
				if sum(m) < least*(1-1e-9)-1e-9 {
					t.Fatalf("moving element %d by %g lowers %g to %g", i, d, least, sum(m))
				}
			}
		}
	})
}

// Marks that say what is known already leave it; others pull the map the more,
// the more they weigh.
func TestBlend(t *testing.T) {
	start := affine.Compose(affine.Parts{DX: 5, DY: -2, Turn: 1, StretchX: 1.01, StretchY: 0.99}, 400, 300)
	at := [][2]float64{{100, 80}, {650, 90}, {400, 520}}
	f, err := Blend(pinned(start, at...), start, 800, 600, 0.5)
	if err != nil || len(f.Residual) != 3 {
		t.Fatalf("%+v, %v", f, err)
	}
	for i := range f.Matrix {
		if math.Abs(f.Matrix[i]-start[i]) > 1e-9 {
			t.Errorf("agreeing marks give %v, want %v", f.Matrix, start)
			break
		}
	}
	moved := affine.Translate(3, 0).Mul(start)
	last := 0.0
	for _, share := range []float64{0.1, 0.5, 0.9} {
		f, err := Blend(pinned(moved, at...), start, 800, 600, share)
		if err != nil {
			t.Fatal(err)
		}
		x, _ := f.Matrix.Apply(400, 300)
		sx, _ := start.Apply(400, 300)
		if pull := x - sx; !(pull > last && pull < 3) {
			t.Errorf("with a share of %g the middle is pulled by %g px, after %g", share, pull, last)
		} else {
			last = pull
		}
	}
	if one, err := Blend(pinned(moved, [2]float64{400, 300}), start, 800, 600, 0.5); err != nil || one.Kind != Affine {
		t.Errorf("a single mark: %+v, %v", one, err)
	}
	if _, err := Blend(nil, start, 800, 600, 0.5); !errors.Is(err, ErrNone) {
		t.Errorf("no mark: %v", err)
	}
}

func TestMarksThatFixNothing(t *testing.T) {
	if _, err := Solve(nil, affine.Identity); !errors.Is(err, ErrNone) {
		t.Errorf("no marks: %v", err)
	}
	for _, at := range [][][2]float64{
		{{5, 5}, {5, 5}}, {{0, 0}, {math.NaN(), 1}}, {{0, 0}, {10, 10}, {20, 20}}, {{7, 7}, {7, 7}, {7, 7}}, {{0, 0}, {math.NaN(), 1}, {4, 5}},
	} {
		if f, err := Solve(pinned(affine.Identity, at...), affine.Identity); !errors.Is(err, ErrPlace) {
			t.Errorf("%v: %v, error %v", at, f, err)
		}
	}
}

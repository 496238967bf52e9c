package mark

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
)

// The strain is what errors of the pins make of the map: tried out with Solve.
func TestStrain(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 8))
	sets := map[string][]Mark{
		"shift":       {{KeyX: 300, KeyY: 200}},
		"similarity":  {{KeyX: 300, KeyY: 200}, {KeyX: 420, KeyY: 260}},
		"affine":      {{KeyX: 100, KeyY: 100}, {KeyX: 900, KeyY: 120}, {KeyX: 500, KeyY: 600}},
		"in a corner": {{KeyX: 40, KeyY: 50}, {KeyX: 140, KeyY: 60}, {KeyX: 90, KeyY: 160}, {KeyX: 60, KeyY: 120}},
		"weighted":    {{KeyX: 100, KeyY: 100, Weight: 0.25}, {KeyX: 900, KeyY: 120}, {KeyX: 500, KeyY: 600, Weight: 2}, {KeyX: 120, KeyY: 500}},
	}
	for name, marks := range sets {
		for _, at := range [][2]float64{{500, 350}, {0, 0}, {999, 699}} {
			const tries = 20000
			sum := 0.0
			for range tries {
				erring := make([]Mark, len(marks))
				for i, m := range marks {
					sigma := 1 / math.Sqrt(m.weight())
					m.X, m.Y = m.KeyX+sigma*rnd.NormFloat64(), m.KeyY+sigma*rnd.NormFloat64()
					erring[i] = m
				}
				fit, err := Solve(erring, affine.Identity)
				if err != nil {
					t.Fatal(err)
				}
				x, y := fit.Matrix.Apply(at[0], at[1])
				sum += (math.Pow(x-at[0], 2) + math.Pow(y-at[1], 2)) / 2
			}
			want, got := math.Sqrt(sum/tries), Strain(marks, at[0], at[1])
			if math.Abs(got-want) > 0.03*want {
				t.Errorf("%s at %v: strain %.3f, tried %.3f", name, at, got, want)
			}
		}
	}
}

func TestStrainWithoutMap(t *testing.T) {
	for name, marks := range map[string][]Mark{
		"none":        nil,
		"one point":   {{KeyX: 3, KeyY: 4}, {KeyX: 3, KeyY: 4}},
		"on one line": {{KeyX: 0, KeyY: 0}, {KeyX: 1, KeyY: 1}, {KeyX: 2, KeyY: 2}},
	} {
		if got := Strain(marks, 50, 60); !math.IsInf(got, 1) {
			t.Errorf("%s: %g", name, got)
		}
	}
}

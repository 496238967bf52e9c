package verdict

import (
	"testing"

	"threeply/proof/affine"
	"threeply/proof/command"
)

// must carries commands out that have to be taken.
func must(t *testing.T, s *command.History, commands ...command.Command) {
	t.Helper()
	for _, c := range commands {
		if err := s.Do(c, ""); err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
	}
}

// pinned pins features of the key at the places, where a true map shows them
// in the red plate.
func pinned(t *testing.T, s *command.History, truth affine.Matrix, places ...[2]float64) {
	t.Helper()
	for n, p := range places {
		x, y := truth.Apply(p[0], p[1])
		must(t, s,
			command.Pin{N: n + 1, Source: 1, X: p[0], Y: p[1]},
			command.Pin{N: n + 1, Source: 0, X: x, Y: y})
	}
}

func f(v float64) *float64 { return &v }

package reach

import (
	"math"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Without pigment there is one colour, and every other is out of reach.
func TestNoPigmentReachesThePaper(t *testing.T) {
	r, light := stack.Recipe{Order: stack.DefaultOrder, Paper: stack.Papers()[0], Surface: stack.Gloss.Surface}, spectrum.Lights()[0]
	s := New(cube.New(r, light, 9), 1)
	if v := s.Volume(); !(v < 1e-6) {
		t.Errorf("volume %v", v)
	}
	h := s.Shell(balance.Neutral(r, light, 1))
	for _, l := range []spectrum.Lab{{50, 0, 0}, {50, 40, 0}, {95, 30, 30}} {
		if over := h.Beyond(l); !(over > 5) || math.IsNaN(over) {
			t.Errorf("%v is %v beyond", l, over)
		}
	}
	if over := h.Beyond(spectrum.Lab{math.NaN(), 0, 0}); !math.IsInf(over, 1) {
		t.Errorf("no colour is %v beyond", over)
	}
	if over := h.Beyond(light.Lab(r.Paper.R)); !(over < 0.1) {
		t.Errorf("the paper itself is %v beyond", over)
	}
}

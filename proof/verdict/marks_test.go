package verdict

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/mark"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

func TestMarksSay(t *testing.T) {
	s := command.NewHistory(sessiontest.Opened())
	if say := OfMarks(&s.State, 0); say.N != 0 || say.Err == nil {
		t.Errorf("without marks: %+v", say)
	}
	truth := affine.Translate(3, -4).Mul(place.Found(&s.State, 0))
	pinned(t, s, truth, [2]float64{100, 100}, [2]float64{900, 120}, [2]float64{500, 600})
	say := OfMarks(&s.State, 0)
	if say.Err != nil || say.N != 3 || say.Kind != mark.Affine || say.Spare || say.Residual > 1e-9 {
		t.Errorf("three marks: %+v", say)
	}
	if math.Abs(say.Centre-5) > 1e-6 || math.Abs(say.Corner-5) > 1e-6 {
		t.Errorf("a shift of 5 px lies %g px off at the centre, %g at a corner", say.Centre, say.Corner)
	}
	if !(say.Strain > 1 && say.Strain < 2) {
		t.Errorf("spread marks strain the corners by %g", say.Strain)
	}
	if r, ok := place.MarkResidual(&s.State, s.Marks[0], 0); !ok || math.Abs(r-5) > 1e-6 {
		t.Errorf("against what was found mark 1 is left with %g px, %v", r, ok)
	}
	must(t, s, command.RegisterBy{ID: session.ByMarks})
	if r, ok := place.MarkResidual(&s.State, s.Marks[0], 0); !ok || r > 1e-6 {
		t.Errorf("against the marks' own map mark 1 is left with %g px, %v", r, ok)
	}
	if _, ok := place.MarkResidual(&s.State, s.Marks[0], 2); ok {
		t.Error("a residual of a plate that has no pin")
	}
}

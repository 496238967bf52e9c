package session

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/mark"
)

func TestMarksSay(t *testing.T) {
	s := NewSession(opened())
	if say := s.MarksSay(0); say.N != 0 || say.Err == nil {
		t.Errorf("without marks: %+v", say)
	}
	truth := affine.Translate(3, -4).Mul(s.found(0))
	pinned(t, s, truth, [2]float64{100, 100}, [2]float64{900, 120}, [2]float64{500, 600})
	say := s.MarksSay(0)
	if say.Err != nil || say.N != 3 || say.Kind != mark.Affine || say.Spare || say.Residual > 1e-9 {
		t.Errorf("three marks: %+v", say)
	}
	if math.Abs(say.Centre-5) > 1e-6 || math.Abs(say.Corner-5) > 1e-6 {
		t.Errorf("a shift of 5 px lies %g px off at the centre, %g at a corner", say.Centre, say.Corner)
	}
	if !(say.Strain > 1 && say.Strain < 2) {
		t.Errorf("spread marks strain the corners by %g", say.Strain)
	}
	if r, ok := s.MarkResidual(s.Marks[0], 0); !ok || math.Abs(r-5) > 1e-6 {
		t.Errorf("against what was found mark 1 is left with %g px, %v", r, ok)
	}
	must(t, s, Command{Do: "registerBy", ID: ByMarks})
	if r, ok := s.MarkResidual(s.Marks[0], 0); !ok || r > 1e-6 {
		t.Errorf("against the marks' own map mark 1 is left with %g px, %v", r, ok)
	}
	if _, ok := s.MarkResidual(s.Marks[0], 2); ok {
		t.Error("a residual of a plate that has no pin")
	}
}

// TestLaidByMarks registers plates that register itself could not.
func TestLaidByMarks(t *testing.T) {
	state := New()
	state.Sources = opened().Sources
	s := NewSession(state)
	if s.Laid() {
		t.Error("plates as scanned count as laid")
	}
	must(t, s, Command{Do: "registerBy", ID: ByMarks})
	pinned(t, s, affine.Translate(7, 2), [2]float64{300, 200})
	if s.Way(0) != WayMarks || s.Way(2) != WayNone || s.Laid() {
		t.Error("one plate with a mark: the other one is laid too, or neither is")
	}
	must(t, s, Command{Do: "propose", N: 1, Pins: [3]Pin{2: {Set: true, X: 290, Y: 210, Certainty: 0.7}}})
	if !s.Laid() {
		t.Error("a mark in every plate does not lay them")
	}
	if m := s.Misregister(); m.Sentence == "Not registered yet: the plates lie as they were scanned." {
		t.Errorf("laid by marks, it is said: %s", m.Sentence)
	}
}

func TestProposedPins(t *testing.T) {
	s := NewSession(opened())
	must(t, s, Command{Do: "pin", Source: 1, Pin: &Pin{X: 300, Y: 200}})
	proposal := Command{Do: "propose", N: 1, Pins: [3]Pin{{Set: true, X: 310, Y: 190, Certainty: 0.8}, {Set: true, X: 5, Y: 5}, {}}}
	must(t, s, proposal)
	at := s.Marks[0].At
	if at[0] != (Pin{Set: true, X: 310, Y: 190, Certainty: 0.8, Proposed: true}) || at[1].X != 300 || at[2].Set {
		t.Errorf("proposed: %+v", at)
	}
	must(t, s, Command{Do: "confirm", N: 1})
	if p := s.Marks[0].At[0]; p.Proposed || p.Certainty != 0.8 {
		t.Errorf("confirmed: %+v", p)
	}
	must(t, s, proposal) // too late: they are a person's own
	s.Undo()
	if !s.Marks[0].At[0].Proposed {
		t.Error("the confirmation cannot be undone")
	}
	for _, c := range []Command{
		{Do: "propose", N: 7}, {Do: "confirm", N: 7},
		{Do: "propose", N: 1, Pins: [3]Pin{{Set: true, X: -40}}}, {Do: "propose", N: 1, Pins: [3]Pin{{Set: true, Certainty: 2}}},
	} {
		if s.Do(c) == nil {
			t.Errorf("%+v is taken", c)
		}
	}
}

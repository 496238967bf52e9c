package command

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/mark"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/verdict"
)

// pinned pins features of the key at the places, where a true map shows them
// in the red plate.
func pinned(t *testing.T, s *History, truth affine.Matrix, places ...[2]float64) {
	t.Helper()
	for n, p := range places {
		x, y := truth.Apply(p[0], p[1])
		must(t, s,
			Pin{N: n + 1, Source: 1, X: p[0], Y: p[1]},
			Pin{N: n + 1, Source: 0, X: x, Y: y})
	}
}

func TestMarksRegister(t *testing.T) {
	truth := affine.Compose(affine.Parts{DX: 9, DY: -4, Turn: 0.5, StretchX: 1.003, StretchY: 1.001}, 500, 350)
	s := NewHistory(sessiontest.Opened())
	auto := place.Register(&s.State, 0)
	pinned(t, s, truth, [2]float64{100, 100}, [2]float64{900, 120}, [2]float64{500, 600}, [2]float64{120, 580})
	if place.Register(&s.State, 0) != auto {
		t.Fatal("marks count before they are asked for")
	}
	must(t, s, RegisterBy{ID: session.ByMarks})
	fit, err := place.MarkFit(&s.State, 0)
	if err != nil || fit.Kind != mark.Affine || len(fit.Residual) != 4 {
		t.Fatalf("%+v, %v", fit, err)
	}
	if d := apart(place.Register(&s.State, 0), truth); d > 1e-6 {
		t.Errorf("the marks' map lies %g px off", d)
	}
	if place.Register(&s.State, 2) != place.Found(&s.State, 2) {
		t.Error("a plate without marks has lost its place")
	}

	// both: between the two, nearer to the heavier
	must(t, s, RegisterBy{ID: session.ByBoth, Value: f(0.9)})
	near := apart(place.Register(&s.State, 0), truth)
	must(t, s, RegisterBy{ID: session.ByBoth, Value: f(0.1)})
	far := apart(place.Register(&s.State, 0), truth)
	if all := apart(auto, truth); !(near < far && far < all) {
		t.Errorf("with 90 %% weight %.3f px from the marks, with 10 %% %.3f, without %.3f", near, far, all)
	}
	must(t, s, Unpin{N: 2}, Weigh{N: 1, Value: 3})
	if len(s.Marks) != 3 || s.NextMark() != 5 || s.Marks[0].Weight != 3 {
		t.Errorf("marks left: %+v", s.Marks)
	}
}

func TestMarksThatCannotBe(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	begin := s.State
	for _, c := range []Command{
		Pin{Source: 3}, Pin{Source: 0, X: -20},
		Pin{Source: 0, X: math.NaN()}, Unpin{N: 1}, Weigh{N: 1, Value: 1},
		RegisterBy{ID: "guess"}, RegisterBy{ID: session.ByBoth, Value: f(2)},
	} {
		if s.Do(c, "") == nil {
			t.Errorf("%+v is taken", c)
		}
	}
	if !s.State.Equal(begin) {
		t.Error("a refused mark leaves a trace")
	}
	// two marks on one spot say nothing: what was found stays
	pinned(t, s, affine.Identity, [2]float64{50, 50}, [2]float64{50, 50})
	must(t, s, RegisterBy{ID: session.ByMarks})
	if place.Register(&s.State, 0) != place.Found(&s.State, 0) {
		t.Error("marks that fix nothing move the plate")
	}
}

func apart(a, b affine.Matrix) float64 {
	worst := 0.0
	for _, c := range [][2]float64{{0, 0}, {999, 0}, {0, 699}, {999, 699}} {
		ax, ay := a.Apply(c[0], c[1])
		bx, by := b.Apply(c[0], c[1])
		worst = max(worst, math.Hypot(ax-bx, ay-by))
	}
	return worst
}

// A mark that is moved to where the other plates do not show it keeps nothing of
// what was proposed for its old place.
func TestProposedIsTakenBack(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	must(t, s, Pin{N: 1, Source: 1, X: 100, Y: 90},
		Pin{N: 1, Source: 2, X: 110, Y: 95},
		Propose{N: 1, At: [3]Proposal{{Sought: true, Found: true, X: 102, Y: 91, Certainty: 0.8}}})
	if at := s.Marks[0].At; !at[0].Set || !at[0].Proposed {
		t.Fatalf("proposed: %+v", at)
	}
	must(t, s, Propose{N: 1, At: [3]Proposal{{Sought: true}, {Sought: true}, {Sought: true}}})
	if at := s.Marks[0].At; at[0] != (session.Pin{}) || !at[1].Set || !at[2].Set {
		t.Errorf("found nowhere: %+v; the red pin should go, those of a person stay", at)
	}
}

// TestLaidByMarks registers plates that register itself could not.
func TestLaidByMarks(t *testing.T) {
	state := session.New()
	state.Sources = sessiontest.Opened().Sources
	s := NewHistory(state)
	if place.Laid(&s.State) {
		t.Error("plates as scanned count as laid")
	}
	must(t, s, RegisterBy{ID: session.ByMarks})
	pinned(t, s, affine.Translate(7, 2), [2]float64{300, 200})
	if place.WayOf(&s.State, 0) != place.WayMarks || place.WayOf(&s.State, 2) != place.WayNone || place.Laid(&s.State) {
		t.Error("one plate with a mark: the other one is laid too, or neither is")
	}
	must(t, s, Propose{N: 1, At: [3]Proposal{2: {Sought: true, Found: true, X: 290, Y: 210, Certainty: 0.7}}})
	if !place.Laid(&s.State) {
		t.Error("a mark in every plate does not lay them")
	}
	if m := verdict.OfScan(&s.State); m.Sentence == "Not registered yet: the plates lie as they were scanned." {
		t.Errorf("laid by marks, it is said: %s", m.Sentence)
	}
}

func TestProposedPins(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	must(t, s, Pin{Source: 1, X: 300, Y: 200})
	proposal := Propose{N: 1, At: [3]Proposal{{Sought: true, Found: true, X: 310, Y: 190, Certainty: 0.8}, {Sought: true, Found: true, X: 5, Y: 5}, {}}}
	must(t, s, proposal)
	at := s.Marks[0].At
	if at[0] != (session.Pin{Set: true, X: 310, Y: 190, Certainty: 0.8, Proposed: true}) || at[1].X != 300 || at[2].Set {
		t.Errorf("proposed: %+v", at)
	}
	must(t, s, Confirm{N: 1})
	if p := s.Marks[0].At[0]; p.Proposed || p.Certainty != 0.8 {
		t.Errorf("confirmed: %+v", p)
	}
	must(t, s, proposal) // too late: they are a person's own
	s.Undo()
	if !s.Marks[0].At[0].Proposed {
		t.Error("the confirmation cannot be undone")
	}
	for _, c := range []Command{
		Propose{N: 7}, Confirm{N: 7},
		Propose{N: 1, At: [3]Proposal{{Sought: true, Found: true, X: -40}}}, Propose{N: 1, At: [3]Proposal{{Sought: true, Found: true, Certainty: 2}}},
	} {
		if s.Do(c, "") == nil {
			t.Errorf("%+v is taken", c)
		}
	}
}

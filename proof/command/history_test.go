package command

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

func TestUndoAndRedo(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	begin := s.State
	for _, c := range []Command{
		{Do: "palette", ID: "earth"}, {Do: "order", Order: "cmy"}, {Do: "nudge", Printer: "cyan", DX: f(120)},
		{Do: "assign", Filter: "red", Source: 2}, {Do: "hide", Printer: "yellow", Hidden: true},
		{Do: "limit", Value: 1.5}, {Do: "dim", On: true}, {Do: "masked", On: true}, {Do: "grain", ID: "level"},
	} {
		if err := s.Do(c); err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
	}
	end := s.State
	for range 9 {
		s.Undo()
	}
	if !s.State.Equal(begin) || s.UndoWords() != "" || s.RedoWords() != "palette" {
		t.Errorf("nine steps back the state is not the first: undo %q, redo %q", s.UndoWords(), s.RedoWords())
	}
	s.Undo()
	for range 10 {
		s.Redo()
	}
	if !s.State.Equal(end) || s.RedoWords() != "" {
		t.Error("nine steps on the state is not the last")
	}
	s.Undo()
	if err := s.Do(Command{Do: "light", ID: "A"}); err != nil || s.RedoWords() != "" {
		t.Errorf("a new command leaves the undone one to redo (%v)", err)
	}
}

func TestADragIsOneStep(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	for range 30 {
		if err := s.Do(Command{Do: "nudgeBy", Printer: "cyan", DX: f(10), DY: f(-1)}); err != nil {
			t.Fatal(err)
		}
	}
	s.EndGesture()
	if err := s.Do(Command{Do: "nudgeBy", Printer: "cyan", DX: f(10)}); err != nil {
		t.Fatal(err)
	}
	s.Undo()
	if o := s.Offsets[pigment.Cyan]; math.Abs(o.DX-300) > 1e-9 || math.Abs(o.DY+30) > 1e-9 {
		t.Errorf("after the drag cyan lies at %+v", o)
	}
	s.Undo()
	if s.Offsets[pigment.Cyan] != (session.Offset{}) {
		t.Errorf("the drag is not one step: %+v", s.Offsets[pigment.Cyan])
	}
}

func TestRefusedCommandsChangeNothing(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	begin := s.State
	for _, c := range []Command{
		{Do: "palette", ID: "no such"}, {Do: "order", Order: "yy"}, {Do: "print", Width: -3}, {Do: "print", Width: math.NaN()},
		{Do: "nudge", Printer: "black", DX: f(1)}, {Do: "nudge", Printer: "cyan", DX: f(math.Inf(1))}, {Do: "nudge", Printer: "cyan", Turn: f(90)},
		{Do: "assign", Filter: "red", Source: 3}, {Do: "polarity", Source: 0, Polarity: "x"}, {Do: "gamma", Source: 1, Value: 0},
		{Do: "section", X0: 0.5, X1: 0.5, Y0: 0.5, Y1: 0.5}, {Do: "fly"}, {Do: "viewing", Distance: 0}, {Do: "key", Filter: "black"}, {Do: "limit", Value: 9}, {Do: "grain", ID: "round"}, {Do: "bench", Printer: "yellow"}, {Do: "spread"}, {Do: "registerBy", ID: ""},
	} {
		if err := s.Do(c); err == nil {
			t.Errorf("%+v is taken", c)
		}
		if !s.State.Equal(begin) || s.UndoWords() != "" {
			t.Fatalf("%+v leaves a trace", c)
		}
	}
}

func TestSwappingPlatesKeepsRegister(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	before := place.Register(&s.State, 0)
	if err := s.Do(Command{Do: "assign", Filter: "red", Source: 2}); err != nil {
		t.Fatal(err)
	}
	if s.Assign != [3]int{2, 1, 0} || place.Register(&s.State, 0) != before {
		t.Errorf("assigned %v, source 0 at %v", s.Assign, place.Register(&s.State, 0))
	}
	if s.SourceOf(pigment.Cyan) != 2 || s.SourceOf(pigment.Yellow) != 0 || s.SourceOf(pigment.Magenta) != 1 {
		t.Error("the printers do not follow their plates")
	}
}

func TestPolarityTurnsTheFilm(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	before := s.Sources[1].Film
	if err := s.Do(Command{Do: "polarity", Source: 1, Polarity: "positive"}); err != nil {
		t.Fatal(err)
	}
	after := s.Sources[1].Film
	if !s.Sources[1].Overruled {
		t.Error("nobody is said to have overruled the guess")
	}
	if after.Negative || after.White != before.Black || after.Black != before.White {
		t.Errorf("%+v becomes %+v", before, after)
	}
}

// What belongs to the start leaves no step; once something was done it is one.
func TestBegin(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	found := s.Found
	found[0].Confidence = 0.77
	if err := s.Begin(Command{Do: "registered", Found: found}); err != nil || s.Found[0].Confidence != 0.77 {
		t.Fatalf("%v, %+v", err, s.Found[0])
	}
	if s.UndoWords() != "" {
		t.Errorf("the first register can be undone: %q", s.UndoWords())
	}
	must(t, s, Command{Do: "order", Order: "ymc"}, Command{Do: "order", Order: "mcy"})
	found[0].Confidence = 0.66
	if err := s.Begin(Command{Do: "registered", Found: found}); err != nil || s.UndoWords() == "" {
		t.Fatalf("%v, undo %q", err, s.UndoWords())
	}
	s.Undo()
	if s.Found[0].Confidence != 0.77 || s.Order != "mcy" {
		t.Errorf("after undo: %v, %s", s.Found[0].Confidence, s.Order)
	}
	if err := s.Begin(Command{Do: "registered", Found: found}); err != nil || s.RedoWords() != "" {
		t.Errorf("%v, redo %q", err, s.RedoWords())
	}
}

func TestExposures(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	must(t, s, Command{Do: "exposures", Order: "bgr"})
	if s.Assign != [3]int{2, 1, 0} {
		t.Errorf("blue, green, red from the top: %v", s.Assign)
	}
	must(t, s, Command{Do: "exposures", Order: "gbr"})
	if s.Assign != [3]int{2, 0, 1} {
		t.Errorf("green, blue, red from the top: %v", s.Assign)
	}
	for _, wrong := range []string{"", "rg", "rgg", "rgbr", "xyz"} {
		if err := s.Do(Command{Do: "exposures", Order: wrong}); err == nil {
			t.Errorf("%q is taken", wrong)
		}
	}
}

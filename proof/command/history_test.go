package command

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/spread"
)

func TestUndoAndRedo(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	begin := s.State
	for _, c := range []Command{
		Palette{ID: "earth"}, Order{Order: "cmy"}, Nudge{Printer: "cyan", DX: f(120)},
		Assign{Filter: "red", Source: 2}, Hide{Printer: "yellow", Hidden: true},
		Limit{Value: 0.5}, Way{Straight: true, Range: 1.3, AtDepth: true}, Expose{Printer: "magenta", Stops: 0.2}, ExposeAll{Stops: -0.3}, Unknowns{&spread.Usual}, Dim{On: true}, Masked{On: true}, Grain{ID: "level"},
	} {
		if err := s.Do(c, ""); err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
	}
	end := s.State
	for range 13 {
		s.Undo()
	}
	if !s.State.Equal(begin) || s.UndoWords() != "" || s.RedoWords() != "palette" {
		t.Errorf("thirteen steps back the state is not the first: undo %q, redo %q", s.UndoWords(), s.RedoWords())
	}
	s.Undo()
	for range 14 {
		s.Redo()
	}
	if !s.State.Equal(end) || s.RedoWords() != "" {
		t.Error("thirteen steps on the state is not the last")
	}
	s.Undo()
	if err := s.Do(Light{ID: "A"}, ""); err != nil || s.RedoWords() != "" {
		t.Errorf("a new command leaves the undone one to redo (%v)", err)
	}
}

func TestADragIsOneStep(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	for range 30 {
		if err := s.Do(NudgeBy{Printer: "cyan", DX: f(10), DY: f(-1)}, "g1"); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Do(NudgeBy{Printer: "cyan", DX: f(10)}, "g2"); err != nil {
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

// Four placings of a plate by hand are four steps, and so are three limits: only what a
// hand does in one go is one.
func TestActsAreStepsOfTheirOwn(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	var xs []float64
	for i := range 4 {
		must(t, s, Place{Source: 2, Pose: session.Pose{DX: float64(10 * (i + 1))}})
		xs = append(xs, place.PoseOf(&s.State, 2).DX)
	}
	for i := range 3 {
		must(t, s, Limit{Value: 0.9 - float64(i)/10})
	}
	for _, limit := range []float64{0.8, 0.9, sessiontest.Opened().Limit} {
		s.Undo()
		if s.Limit != limit {
			t.Errorf("the limit is %g, want %g", s.Limit, limit)
		}
	}
	for i := 2; i >= 0; i-- {
		s.Undo()
		if got := place.PoseOf(&s.State, 2).DX; got != xs[i] {
			t.Errorf("the plate lies at %g, want %g", got, xs[i])
		}
	}
	if s.Undo(); s.UndoWords() != "" || !s.State.Equal(sessiontest.Opened()) {
		t.Errorf("before the first placing there is “%s” to go back over", s.UndoWords())
	}
}

// A gesture ends with whatever comes between.
func TestGesturesEnd(t *testing.T) {
	nudge := NudgeBy{Printer: "cyan", DX: f(10)}
	do := func(s *History, c Command, gesture string) {
		t.Helper()
		if err := s.Do(c, gesture); err != nil {
			t.Fatal(err)
		}
	}
	for name, between := range map[string]func(s *History){
		"another command": func(s *History) { do(s, Order{Order: "cmy"}, "") },
		"another gesture": func(s *History) { do(s, nudge, "g2") },
		"none":            func(s *History) { do(s, nudge, "") },
		"undo and redo":   func(s *History) { s.Undo(); s.Redo() },
		"another session": func(s *History) { s.Replace(s.State, "opened session") },
	} {
		s := NewHistory(sessiontest.Opened())
		do(s, nudge, "g1")
		between(s)
		before := s.State
		do(s, nudge, "g1")
		do(s, nudge, "g1")
		s.Undo()
		if !s.State.Equal(before) {
			t.Errorf("%s: the gesture goes on over it", name)
		}
	}
	// An undone step is gone once a gesture goes on.
	s := NewHistory(sessiontest.Opened())
	do(s, nudge, "g1")
	do(s, Order{Order: "cmy"}, "")
	s.Undo()
	do(s, nudge, "g1")
	if s.RedoWords() != "" || s.Offsets[pigment.Cyan].DX != 20 {
		t.Errorf("redo %q, cyan at %g", s.RedoWords(), s.Offsets[pigment.Cyan].DX)
	}
	s.Undo()
	if s.Offsets[pigment.Cyan].DX != 10 {
		t.Errorf("after undo cyan lies at %g", s.Offsets[pigment.Cyan].DX)
	}
}

func TestRefusedCommandsChangeNothing(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	begin := s.State
	for _, c := range []Command{
		Palette{ID: "no such"}, Order{Order: "yy"}, PrintWidth{Width: -3}, PrintWidth{Width: math.NaN()},
		Nudge{Printer: "black", DX: f(1)}, Nudge{Printer: "cyan", DX: f(math.Inf(1))}, Nudge{Printer: "cyan", Turn: f(90)},
		Assign{Filter: "red", Source: 3}, Polarity{Source: 0, Polarity: "x"}, Gamma{Source: 1, Value: 0},
		Section{X0: 0.5, X1: 0.5, Y0: 0.5, Y1: 0.5}, ViewingDistance{Distance: 0}, Key{Filter: "black"}, Limit{Value: 9}, Grain{ID: "round"}, Bench{Printer: "yellow"}, Limit{Value: 1.2}, Unknowns{&spread.Unknowns{Scatter: 1, Surface: 1, Amount: 2}}, Way{Straight: true, Range: 0.1}, Expose{"cyan", 6}, Expose{"black", 1}, ExposeAll{math.Inf(-1)}, Lock{Printer: "black"}, RegisterBy{ID: ""},
	} {
		if err := s.Do(c, ""); err == nil {
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
	if err := s.Do(Assign{Filter: "red", Source: 2}, ""); err != nil {
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
	if err := s.Do(Polarity{Source: 1, Polarity: "positive"}, ""); err != nil {
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
	if err := s.Begin(Registered{Found: found, FoundKey: 1}); err != nil || s.Found[0].Confidence != 0.77 {
		t.Fatalf("%v, %+v", err, s.Found[0])
	}
	if s.UndoWords() != "" {
		t.Errorf("the first register can be undone: %q", s.UndoWords())
	}
	must(t, s, Order{Order: "ymc"}, Order{Order: "mcy"})
	found[0].Confidence = 0.66
	if err := s.Begin(Registered{Found: found, FoundKey: 1}); err != nil || s.UndoWords() == "" {
		t.Fatalf("%v, undo %q", err, s.UndoWords())
	}
	s.Undo()
	if s.Found[0].Confidence != 0.77 || s.Order != "mcy" {
		t.Errorf("after undo: %v, %s", s.Found[0].Confidence, s.Order)
	}
	if err := s.Begin(Registered{Found: found, FoundKey: 1}); err != nil || s.RedoWords() != "" {
		t.Errorf("%v, redo %q", err, s.RedoWords())
	}
}

func TestExposures(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	must(t, s, Exposures{Order: "bgr"})
	if s.Assign != [3]int{2, 1, 0} {
		t.Errorf("blue, green, red from the top: %v", s.Assign)
	}
	must(t, s, Exposures{Order: "gbr"})
	if s.Assign != [3]int{2, 0, 1} {
		t.Errorf("green, blue, red from the top: %v", s.Assign)
	}
	for _, wrong := range []string{"", "rg", "rgg", "rgbr", "xyz"} {
		if err := s.Do(Exposures{Order: wrong}, ""); err == nil {
			t.Errorf("%q is taken", wrong)
		}
	}
}

package session

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/pigment"
)

func opened() State {
	s := New()
	for i, f := range Filters {
		s.Sources[i] = Source{File: f + ".tif", W: 1000 + i, H: 700}
		s.Sources[i].Film.Gamma = 0.8
		s.Sources[i].Film.Negative = true
		s.Sources[i].Film.White, s.Sources[i].Film.Black = 1.6, 0.3
	}
	s.Registered = "auto"
	s.Found[0] = Found{Matrix: affine.Compose(affine.Parts{DX: 4, DY: -3, Turn: 0.2, StretchX: 1.002, StretchY: 1.002}, 500, 350), Confidence: 0.9}
	s.Found[1].Confidence = 1
	s.Found[2] = Found{Matrix: affine.Translate(-2, 5), Confidence: 0.9}
	return s
}

func f(v float64) *float64 { return &v }

func TestUndoAndRedo(t *testing.T) {
	s := NewSession(opened())
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
	if !s.State.Equal(begin) || s.UndoWhat() != "" || s.RedoWhat() != "palette" {
		t.Errorf("nine steps back the state is not the first: undo %q, redo %q", s.UndoWhat(), s.RedoWhat())
	}
	s.Undo()
	for range 10 {
		s.Redo()
	}
	if !s.State.Equal(end) || s.RedoWhat() != "" {
		t.Error("nine steps on the state is not the last")
	}
	s.Undo()
	if err := s.Do(Command{Do: "light", ID: "A"}); err != nil || s.RedoWhat() != "" {
		t.Errorf("a new command leaves the undone one to redo (%v)", err)
	}
}

func TestADragIsOneStep(t *testing.T) {
	s := NewSession(opened())
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
	if s.Offsets[pigment.Cyan] != (Offset{}) {
		t.Errorf("the drag is not one step: %+v", s.Offsets[pigment.Cyan])
	}
}

func TestRefusedCommandsChangeNothing(t *testing.T) {
	s := NewSession(opened())
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
		if !s.State.Equal(begin) || s.UndoWhat() != "" {
			t.Fatalf("%+v leaves a trace", c)
		}
	}
}

func TestWriteAndRead(t *testing.T) {
	s := opened()
	s.Palette, s.Offsets[2] = "gamboge", Offset{DX: 12.5, Turn: 0.1}
	text, err := Write(s)
	if err != nil {
		t.Fatal(err)
	}
	back, err := Read("saved.json", text)
	if err != nil || !back.Equal(s) {
		t.Errorf("read back: %v, same %v", err, back.Equal(s))
	}
	for _, bad := range []string{"", "plate", "{}", `{"version":99}`, `{"version":1,"palette":"none"}`, `{"version":1,"assign":[0,0,1]}`, `{"version":1,"print_width_mm":0}`, `{"version":1,"found":[{"matrix":[0,0,0,0,0,0]}]}`} {
		if _, err := Read("saved.json", []byte(bad)); err == nil || !strings.HasPrefix(err.Error(), "saved.json: ") {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func TestSwappingPlatesKeepsRegister(t *testing.T) {
	s := NewSession(opened())
	before := s.Register(0)
	if err := s.Do(Command{Do: "assign", Filter: "red", Source: 2}); err != nil {
		t.Fatal(err)
	}
	if s.Assign != [3]int{2, 1, 0} || s.Register(0) != before {
		t.Errorf("assigned %v, source 0 at %v", s.Assign, s.Register(0))
	}
	if s.SourceOf(pigment.Cyan) != 2 || s.SourceOf(pigment.Yellow) != 0 || s.SourceOf(pigment.Magenta) != 1 {
		t.Error("the printers do not follow their plates")
	}
}

// Whatever plate is the key, the same scene point is found in each source.
func TestAnotherKeyKeepsRegister(t *testing.T) {
	s := opened()
	x0, y0 := s.Register(0).Apply(400, 300)
	x2, y2 := s.Register(2).Apply(400, 300)
	s.Key = "red"
	x, y := s.Register(2).Apply(x0, y0)
	if math.Hypot(x-x2, y-y2) > 1e-9 {
		t.Errorf("from the red plate the blue one is found at (%g, %g), want (%g, %g)", x, y, x2, y2)
	}
}

// A layer moved right by 3 pixels on the print shows at x what it had at x-3.
func TestOffsetMovesTheLayer(t *testing.T) {
	s := opened()
	s.Offsets[pigment.Cyan] = Offset{DX: 3 * s.PixelMicrons()}
	x, y := s.LayerMatrix(pigment.Cyan).Apply(103, 50)
	wx, wy := s.Register(0).Apply(100, 50)
	if math.Hypot(x-wx, y-wy) > 1e-9 {
		t.Errorf("(%g, %g), want (%g, %g)", x, y, wx, wy)
	}
}

// One arc minute is 0.087 mm at 300 mm and 0.29 mm at 1 m (geometry; the
// acuity of a 20/20 eye).
func TestEyeMicrons(t *testing.T) {
	s := New()
	worst := 0.0
	for mm, want := range map[float64]float64{250: 73, 300: 87, 400: 116, 600: 175, 1000: 291} {
		s.ViewingDist = mm
		got := s.EyeMicrons()
		if worst = max(worst, math.Abs(got-want)); math.Abs(got-want) > 1 {
			t.Errorf("at %g mm: %g µm, want %g", mm, got, want)
		}
	}
	t.Logf("largest error %.2g µm of figures to whole ones", worst)
}

func TestMisregisterSpeaks(t *testing.T) {
	s := opened()
	if m := s.Misregister(); m.Sign != "in" || m.Largest > 1e-6 {
		t.Errorf("without offsets: %+v", m)
	}
	s.Offsets[pigment.Cyan].DX = 200
	m := s.Misregister()
	if m.Sign != "out" || math.Abs(m.Largest-200) > 1e-6 || !strings.Contains(m.Sentence, "200 µm") || !strings.Contains(m.Sentence, "cyan") {
		t.Errorf("cyan 200 µm off: %+v", m)
	}
	s.Offsets[pigment.Cyan] = Offset{Turn: 0.03} // the corner of 300 × 210 mm moves by 183 mm · 0.03°
	if m = s.Misregister(); math.Abs(m.Largest-95.7) > 1 {
		t.Errorf("turned 0.03°: %g µm at the corner", m.Largest)
	}
	s.Offsets[pigment.Cyan], s.Found[0].Median = Offset{}, 0.4 // 0.4 px of 300 µm
	if m = s.Misregister(); m.Sign != "near" || !strings.Contains(m.Sentence, "as these scans can tell") {
		t.Errorf("a coarse scan: %+v", m)
	}
	s.Found[0].Median = 2
	if m = s.Misregister(); m.Sign != "out" {
		t.Errorf("register leaves 2 px: %+v", m)
	}
	s.Found[0].Confidence = 0.2
	if m = s.Misregister(); m.Sign != "unsure" || !strings.Contains(m.Sentence, "not in register") {
		t.Errorf("unsure: %+v", m)
	}
}

func TestPolarityTurnsTheFilm(t *testing.T) {
	s := NewSession(opened())
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
	s := NewSession(opened())
	found := s.Found
	found[0].Confidence = 0.77
	if err := s.Begin(Command{Do: "registered", Found: found}); err != nil || s.Found[0].Confidence != 0.77 {
		t.Fatalf("%v, %+v", err, s.Found[0])
	}
	if s.UndoWhat() != "" {
		t.Errorf("the first register can be undone: %q", s.UndoWhat())
	}
	must(t, s, Command{Do: "order", Order: "ymc"}, Command{Do: "order", Order: "mcy"})
	found[0].Confidence = 0.66
	if err := s.Begin(Command{Do: "registered", Found: found}); err != nil || s.UndoWhat() == "" {
		t.Fatalf("%v, undo %q", err, s.UndoWhat())
	}
	s.Undo()
	if s.Found[0].Confidence != 0.77 || s.Order != "mcy" {
		t.Errorf("after undo: %v, %s", s.Found[0].Confidence, s.Order)
	}
	if err := s.Begin(Command{Do: "registered", Found: found}); err != nil || s.RedoWhat() != "" {
		t.Errorf("%v, redo %q", err, s.RedoWhat())
	}
}

func TestExposures(t *testing.T) {
	s := NewSession(opened())
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

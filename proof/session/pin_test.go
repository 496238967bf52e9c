package session

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/mark"
	"threeply/proof/pigment"
)

// pinned pins features of the key at the places, where a true map shows them
// in the red plate.
func pinned(t *testing.T, s *Session, truth affine.Matrix, places ...[2]float64) {
	t.Helper()
	for n, p := range places {
		x, y := truth.Apply(p[0], p[1])
		must(t, s,
			Command{Do: "pin", N: n + 1, Source: 1, Pin: &Pin{X: p[0], Y: p[1]}},
			Command{Do: "pin", N: n + 1, Source: 0, Pin: &Pin{X: x, Y: y}})
	}
}

func TestMarksRegister(t *testing.T) {
	truth := affine.Compose(affine.Parts{DX: 9, DY: -4, Turn: 0.5, StretchX: 1.003, StretchY: 1.001}, 500, 350)
	s := NewSession(opened())
	auto := s.Register(0)
	pinned(t, s, truth, [2]float64{100, 100}, [2]float64{900, 120}, [2]float64{500, 600}, [2]float64{120, 580})
	if s.Register(0) != auto {
		t.Fatal("marks count before they are asked for")
	}
	must(t, s, Command{Do: "registerBy", ID: ByMarks})
	fit, err := s.MarkFit(0)
	if err != nil || fit.Kind != mark.Affine || len(fit.Residual) != 4 {
		t.Fatalf("%+v, %v", fit, err)
	}
	if d := apart(s.Register(0), truth); d > 1e-6 {
		t.Errorf("the marks' map lies %g px off", d)
	}
	if s.Register(2) != s.found(2) {
		t.Error("a plate without marks has lost its place")
	}

	// both: between the two, nearer to the heavier
	must(t, s, Command{Do: "registerBy", ID: ByBoth, Value: 0.9})
	near := apart(s.Register(0), truth)
	must(t, s, Command{Do: "registerBy", ID: ByBoth, Value: 0.1})
	far := apart(s.Register(0), truth)
	if all := apart(auto, truth); !(near < far && far < all) {
		t.Errorf("with 90 %% weight %.3f px from the marks, with 10 %% %.3f, without %.3f", near, far, all)
	}
	must(t, s, Command{Do: "unpin", N: 2}, Command{Do: "weigh", N: 1, Value: 3})
	if len(s.Marks) != 3 || s.NextMark() != 5 || s.Marks[0].Weight != 3 {
		t.Errorf("marks left: %+v", s.Marks)
	}
}

func TestMarksThatCannotBe(t *testing.T) {
	s := NewSession(opened())
	begin := s.State
	for _, c := range []Command{
		{Do: "pin", Source: 3, Pin: &Pin{}}, {Do: "pin", Source: 0}, {Do: "pin", Source: 0, Pin: &Pin{X: -20}},
		{Do: "pin", Source: 0, Pin: &Pin{X: math.NaN()}}, {Do: "unpin", N: 1}, {Do: "weigh", N: 1, Value: 1},
		{Do: "registerBy", ID: "guess"}, {Do: "registerBy", ID: ByBoth, Value: 2},
	} {
		if s.Do(c) == nil {
			t.Errorf("%+v is taken", c)
		}
	}
	if !s.State.Equal(begin) {
		t.Error("a refused mark leaves a trace")
	}
	// two marks on one spot say nothing: what was found stays
	pinned(t, s, affine.Identity, [2]float64{50, 50}, [2]float64{50, 50})
	must(t, s, Command{Do: "registerBy", ID: ByMarks})
	if s.Register(0) != s.found(0) {
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

func TestPlacedByHand(t *testing.T) {
	s := NewSession(opened())
	pose := Pose{DX: 12, DY: -7, Turn: 90, Stretch: 2, Mirrored: true}
	must(t, s, Command{Do: "place", Source: 2, Pose: &pose})
	got := s.PoseOf(2)
	for i, v := range [4]float64{got.DX - pose.DX, got.DY - pose.DY, got.Turn - pose.Turn, got.Stretch - pose.Stretch} {
		if math.Abs(v) > 1e-9 {
			t.Errorf("part %d is %g off: %+v", i, v, got)
		}
	}
	if !got.Mirrored || !s.Found[2].ByHand || s.Found[0].ByHand {
		t.Errorf("placed as %+v", got)
	}
	if s.Do(Command{Do: "place", Source: 1, Pose: &pose}) == nil {
		t.Error("the key itself can be placed")
	}
}

func TestLockedLayersStay(t *testing.T) {
	s := NewSession(opened())
	must(t, s, Command{Do: "nudge", Printer: "cyan", DX: f(200), Across: f(0.3)}, Command{Do: "lock", Printer: "cyan", On: true})
	for _, c := range []Command{{Do: "nudgeBy", Printer: "cyan", DX: f(1)}, {Do: "resetOffset", Printer: "cyan"}, {Do: "copyOffset", Printer: "cyan", From: "yellow"}} {
		if s.Do(c) == nil {
			t.Errorf("%s moves a locked layer", c.Do)
		}
	}
	must(t, s, Command{Do: "copyOffset", Printer: "magenta", From: "cyan"})
	if s.Offsets[pigment.Magenta] != s.Offsets[pigment.Cyan] {
		t.Errorf("copied: %+v", s.Offsets)
	}
}

// Paper that grows across an upright grain grows sideways only.
func TestPaperStretchesAcrossItsGrain(t *testing.T) {
	s := opened()
	s.Offsets[pigment.Cyan].Across = 1
	for grain, want := range map[string][2]float64{"upright": {1.01, 1}, "level": {1, 1.01}} {
		s.Grain = grain
		m := s.OffsetMatrix(pigment.Cyan)
		if math.Abs(m[0]-want[0]) > 1e-12 || math.Abs(m[4]-want[1]) > 1e-12 {
			t.Errorf("%s: %v", grain, m)
		}
	}
}

// A smooth rest is added only where it belongs: to the register that found it.
func TestLocalIsUsedWhereItFits(t *testing.T) {
	s := opened()
	s.Local[0].W, s.Local[0].H, s.Local[0].CX[0] = 1000, 700, 2
	if s.LocalOf(0) != nil {
		t.Error("used though it is switched off")
	}
	s.LocalOn = true
	s.Found[1].Matrix = affine.Identity
	x, y := s.LayerPlace(pigment.Cyan).Apply(500, 350)
	ax, ay := s.LayerMatrix(pigment.Cyan).Apply(500, 350)
	if math.Abs(math.Hypot(x-ax, y-ay)-1) > 0.01 { // P2(0) is -1/2, of 2 px
		t.Errorf("the middle moves by %g px", math.Hypot(x-ax, y-ay))
	}
	s.Key = "red"
	if s.LocalOf(2) != nil {
		t.Error("used against another key")
	}
}

// A mark that is moved to where the other plates do not show it keeps nothing of
// what was proposed for its old place.
func TestProposedIsTakenBack(t *testing.T) {
	s := NewSession(opened())
	must(t, s, Command{Do: "pin", N: 1, Source: 1, Pin: &Pin{X: 100, Y: 90}},
		Command{Do: "pin", N: 1, Source: 2, Pin: &Pin{X: 110, Y: 95}},
		Command{Do: "propose", N: 1, Pins: [3]Pin{{Set: true, X: 102, Y: 91, Certainty: 0.8}}})
	if at := s.Marks[0].At; !at[0].Set || !at[0].Proposed {
		t.Fatalf("proposed: %+v", at)
	}
	must(t, s, Command{Do: "propose", N: 1, Pins: [3]Pin{{Proposed: true}, {Proposed: true}, {Proposed: true}}})
	if at := s.Marks[0].At; at[0] != (Pin{}) || !at[1].Set || !at[2].Set {
		t.Errorf("found nowhere: %+v; the red pin should go, those of a person stay", at)
	}
}

package tone

import (
	"encoding/json"
	"math"
	"testing"
)

// toe is a film with a toe: straight far above the base, running into it below.
// The straight line and the film are both known, so a bend through a few of its
// points can be held to it.
func toe(straight float64) float64 {
	const base, width = 0.3, 0.17
	return base + width*math.Log1p(math.Exp((straight-base)/width))
}

func toeKnots(t *testing.T) Bend {
	t.Helper()
	var knots []Knot
	for s := 0.15; s < 1.7; s += 0.12 {
		knots = append(knots, Knot{toe(s), s})
	}
	b, err := BendOf(knots)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestBendFollowsAToeFromItsPoints(t *testing.T) {
	b := toeKnots(t)
	worst := 0.0
	for s := 0.15; s < 1.6; s += 0.01 {
		worst = max(worst, math.Abs(b.Straight(toe(s))-s))
	}
	t.Logf("largest error %.4f in density", worst)
	if worst > 0.005 {
		t.Errorf("largest error %.4f, want half a hundredth", worst)
	}
	// Beyond the last point it goes on straight: this film does.
	if got := b.Straight(toe(2.1)); math.Abs(got-2.1) > 0.01 {
		t.Errorf("at 2.1 the straight line has %.3f", got)
	}
}

func TestBendRisesAndComesBack(t *testing.T) {
	b := toeKnots(t)
	last := math.Inf(-1)
	for d := -0.5; d <= 4; d += 0.003 {
		s := b.Straight(d)
		if s <= last {
			t.Fatalf("at %.3f it falls from %g to %g", d, last, s)
		}
		last = s
		if back := b.Density(s); math.Abs(back-d) > 1e-8 {
			t.Fatalf("%.6f comes back as %.9f", d, back)
		}
	}
	for _, k := range b.Knots() {
		if got := b.Straight(k.Density); math.Abs(got-k.Straight) > 1e-12 {
			t.Errorf("it misses its point %+v by %g", k, got-k.Straight)
		}
	}
	if (Bend{}).Straight(1.25) != 1.25 || (Bend{}).Density(1.25) != 1.25 {
		t.Error("the zero bend changes a density")
	}
}

// A curve through three points on one line is that line.
func TestBendThroughALineIsTheLine(t *testing.T) {
	b, err := BendOf([]Knot{{0.2, 0.1}, {0.5, 0.55}, {1.7, 2.35}})
	if err != nil {
		t.Fatal(err)
	}
	for d := 0.0; d < 3; d += 0.1 {
		if want := 0.1 + 1.5*(d-0.2); math.Abs(b.Straight(d)-want) > 1e-12 {
			t.Errorf("at %.1f: %g, want %g", d, b.Straight(d), want)
		}
	}
}

func TestBendRefusesWhatDoesNotRise(t *testing.T) {
	for _, knots := range [][]Knot{
		nil, {{1, 1}}, {{1, 1}, {1, 2}}, {{1, 1}, {2, 1}}, {{1, 2}, {2, 1}},
		{{0, 0}, {math.NaN(), 1}}, {{0, 0}, {1, math.Inf(1)}}, make([]Knot, 40),
	} {
		if _, err := BendOf(knots); err == nil {
			t.Errorf("%v was taken", knots)
		}
	}
}

func TestBendIsSavedAsItsPoints(t *testing.T) {
	f := Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8, Bend: toeKnots(t)}
	text, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	var back Film
	if err := json.Unmarshal(text, &back); err != nil || back != f {
		t.Errorf("%s comes back as %+v (%v)", text, back, err)
	}
	straight, _ := json.Marshal(films[0])
	if want := `{"negative":true,"white":1.6,"black":0.3,"gamma":0.8}`; string(straight) != want {
		t.Errorf("a straight film is saved as %s", straight)
	}
	if f.Bend.Check() != nil || (Bend{}).Check() != nil || (Bend{{2, 1}, {1, 2}}).Check() == nil || (Bend{{0, 0}, {1, 0}}).Check() == nil || (Bend{{0.5, 0.5}}).Check() == nil {
		t.Error("a bend that does not rise is taken, or one that does is not")
	}
}

// On the film with the toe a stop is a stop at every tone once the bend is known.
func TestExposureThroughABend(t *testing.T) {
	f := Film{Negative: true, White: toe(1.6), Black: toe(0.3), Gamma: 0.8, Bend: toeKnots(t)}
	for _, logH := range []float64{-0.2, -0.7, -1.2} {
		d := toe(1.6 + 0.8*logH)
		if got := f.LogExposure(d); math.Abs(got-logH) > 0.006 {
			t.Errorf("log H %.2f is read as %.4f", logH, got)
		}
		if back := f.Density(f.LogExposure(d)); math.Abs(back-d) > 1e-8 {
			t.Errorf("density %.4f comes back as %.4f", d, back)
		}
	}
	if w, b := f.Exposure(f.White), f.Exposure(f.Black); w != 1 || b != 0 {
		t.Errorf("white %g, black %g", w, b)
	}
}

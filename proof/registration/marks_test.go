package registration

import (
	"context"
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/register"
	"threeply/proof/session"
)

// slipped is the shared plates, the red one of which lies elsewhere: a pixel of the key
// shows there where the map says.
func slipped() (planes [3]*plane.Plane, truth affine.Matrix) {
	planes = cut(shown())
	truth = affine.Compose(affine.Parts{DX: 11.3, DY: -7.6, Turn: 0.8, StretchX: 1.004, StretchY: 1.006}, 225, 175)
	back, _ := truth.Inverse()
	red := plane.New(450, 350)
	for i := range red.Pix {
		red.Pix[i] = uint16(planes[0].Bilinear(back.Apply(float64(i%450), float64(i/450))))
	}
	planes[0] = red
	return planes, truth
}

// worstOf is how far two maps lie apart at most, over the plates' picture.
func worstOf(a, b affine.Matrix) float64 {
	worst := 0.0
	for _, c := range [4][2]float64{{0, 0}, {449, 0}, {0, 349}, {449, 349}} {
		ax, ay := a.Apply(c[0], c[1])
		bx, by := b.Apply(c[0], c[1])
		worst = max(worst, math.Hypot(ax-bx, ay-by))
	}
	return worst
}

// Four marks that a hand pinned some pixels off are where “measure again from here” begins:
// the plate then lies by what was measured, far nearer, the marks stay, and the other
// plate does not move.
func TestMeasuredAgainFromMarks(t *testing.T) {
	planes, truth := slipped()
	s := command.NewHistory(state(planes))
	for n, at := range [4][2]float64{{60, 50}, {400, 70}, {70, 300}, {390, 290}} {
		x, y := truth.Apply(at[0], at[1])
		slip := [4][2]float64{{3, -2}, {-2, -3}, {-3, 2}, {2, 3}}[n]
		for source, p := range [3][2]float64{{x + slip[0], y + slip[1]}, at, {at[0] + 5, at[1] - 4}} {
			if err := s.Do(command.Pin{N: n + 1, Source: source, X: p[0], Y: p[1]}, ""); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := s.Do(command.RegisterBy{ID: session.ByMarks}, ""); err != nil {
		t.Fatal(err)
	}
	before, other := worstOf(place.Register(&s.State, 0), truth), place.Register(&s.State, 2)
	got, err := Refine(context.Background(), &s.State, planes, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Do(got.Command(), ""); err != nil {
		t.Fatal(err)
	}
	after := worstOf(place.Register(&s.State, 0), truth)
	t.Logf("by marks the red plate lies %.2f px off, measured from there %.2f px", before, after)
	if way := place.WayOf(&s.State, 0); way != place.WayFound || before < 1 || after > 0.2 {
		t.Errorf("it lies by %s, %.2f px off, and by marks %.2f px", way, after, before)
	}
	if off := worstOf(place.Register(&s.State, 2), other); off > 1e-9 || place.WayOf(&s.State, 2) != place.WayHand {
		t.Errorf("the blue plate moved by %.3f px, and lies by %s", off, place.WayOf(&s.State, 2))
	}
	if len(s.Marks) != 4 || !s.Survey[0].Known() {
		t.Errorf("%d marks are left, surveyed: %v", len(s.Marks), s.Survey[0].Known())
	}
	s.Undo()
	if s.By != session.ByMarks || worstOf(place.Register(&s.State, 2), other) > 1e-9 {
		t.Error("one step back it does not lie by marks again")
	}
}

// Where the other plate was found within a pixel of its marks, it goes on to lie by what
// was found.
func TestMeasuredAgainWhereTheOtherWasFound(t *testing.T) {
	s := state(cut(shown()))
	s.Registered, s.FoundKey, s.By = "auto", 1, session.ByMarks
	s.Found[2] = session.Found{Matrix: affine.Translate(0.5, 0), Confidence: 0.9, Words: "as before"}
	for n, at := range [3][2]float64{{60, 50}, {400, 70}, {70, 300}} {
		pin := session.Pin{Set: true, X: at[0], Y: at[1], Certainty: 1}
		s.Marks = append(s.Marks, session.Pinned{N: n + 1, Weight: 1, At: [3]session.Pin{pin, pin, pin}})
	}
	r := Registration{Found: s.Found}
	if r.hold(&s, 2); r.Found[2] != s.Found[2] {
		t.Errorf("half a pixel from its marks it lies by %+v", r.Found[2])
	}
	s.Found[2].Matrix = affine.Translate(4, 0)
	if r.hold(&s, 2); !r.Found[2].ByHand || r.Found[2].Matrix[2] != 0 {
		t.Errorf("four pixels from its marks it lies by %+v", r.Found[2])
	}
}

// What is proposed of a mark is as near as the plates tell wherever the search began, and
// stays so in the session and out of its file: marks of nothing but proposals lay the plate
// to within three tenths of a pixel, its corners too.
func TestProposalsKeepTheirAccuracy(t *testing.T) {
	planes, truth := slipped()
	h := command.NewHistory(state(planes))
	n := 0
	for _, at := range [][2]float64{{120, 110}, {330, 100}, {225, 175}, {110, 250}, {340, 255}, {225, 90}} {
		for _, start := range []affine.Matrix{affine.Identity, truth.Mul(affine.Translate(4, -3))} {
			around, ok := register.LookAround(planes[1], planes[0], [2]bool{true, true}, start, at[0], at[1])
			if !ok {
				t.Fatalf("nowhere to look for %v", at)
			}
			found, ok := around.Find()
			if !ok {
				continue
			}
			x, y := truth.Apply(at[0], at[1])
			if off := math.Hypot(found.X-x, found.Y-y); off > 0.5 {
				t.Errorf("%v is proposed %.2f px off, certain to %.2f", at, off, found.Certainty)
			}
			n++
			if err := h.Do(command.Pin{N: n, Source: 1, X: at[0], Y: at[1]}, ""); err != nil {
				t.Fatal(err)
			}
			propose := command.Propose{N: n}
			propose.At[0] = command.Proposal{Sought: true, Found: true, X: found.X, Y: found.Y, Certainty: found.Certainty}
			if err := h.Do(propose, ""); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := h.Do(command.RegisterBy{ID: session.ByMarks}, ""); err != nil {
		t.Fatal(err)
	}
	text, err := session.Write(h.State)
	if err != nil {
		t.Fatal(err)
	}
	s, err := session.Read("the test", text)
	if err != nil {
		t.Fatal(err)
	}
	off := worstOf(place.Register(&s, 0), truth)
	t.Logf("%d proposals lay the plate %.3f px off at the worst corner", n, off)
	if n < 10 || off > 0.3 { // six places, each within 0.15 px, told on to a corner twice as far from their middle
		t.Errorf("%d proposals lay the plate %.3f px off", n, off)
	}
}

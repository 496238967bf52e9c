package view

import (
	"testing"

	"threeply/proof/picture"
	"threeply/proof/session"
)

// Two prints stand against each other in every look that compares; the same never stands
// twice, and what is let go gives its place to the usual.
func TestSides(t *testing.T) {
	v, s := looking(t, "beside")
	for _, name := range []string{"Warm", "Cool"} {
		s.Held = append(s.Held, s.Hold(name))
	}
	do(t, v, s, PutSide{"left", HeldSide(1)})
	want := func(left, right string) {
		t.Helper()
		if v.Left != left || v.Right != right {
			t.Errorf("%s stands at the left and %s at the right, want %s and %s", v.Left, v.Right, left, right)
		}
	}
	want("held-1", "print")
	p := v.Panes()
	if p[0].ID != "held-1" || p[0].Label != "Warm" || p[0].Variant != picture.VariantHeldLeft || p[0].Masking != picture.MaskingHeldLeft || p[0].Shows != ShowsPrint {
		t.Errorf("at the left stands %+v", p[0])
	}
	do(t, v, s, PutSide{"right", HeldSide(1)}) // they change places
	want("print", "held-1")
	do(t, v, s, PutSide{"left", HeldSide(2)})
	want("held-2", "held-1")
	do(t, v, s, TakeLook{"blink"})
	do(t, v, s, Blink{})
	if p := v.Panes(); p[0].ID != "held-1" || p[0].Side != "right" {
		t.Errorf("the second picture by turns is %s", p[0].ID)
	}
	do(t, v, s, TakeLook{"difference"})
	p1 := v.Panes()[0]
	if p1.Variant != picture.VariantHeldRightTrue || p1.Label != "Difference of “Warm” to “Cool”, ΔE00" || p1.Against == nil || *p1.Against != (Against{picture.VariantHeldLeftTrue, picture.MaskingHeldLeft}) {
		t.Errorf("the difference is of %+v", p1)
	}
	do(t, v, s, TakeLook{"reach"}) // each of them is judged
	both := v.Panes()
	if len(both) != 2 || both[0].ID != "reach-left" || both[0].Variant != picture.VariantHeldLeft || both[0].Label != "Out of reach of “Cool”, ΔE00" ||
		both[1].Variant != picture.VariantHeldRight || both[1].Label != "Out of reach of “Warm”, ΔE00" || both[1].Shows != ShowsReach || both[1].Side != "" {
		t.Errorf("out of reach are %+v", both)
	}
	do(t, v, s, PutSide{"right", SideReference})
	if p := v.Panes(); len(p) != 1 || p[0].ID != "reach" || p[0].Variant != picture.VariantHeldLeft || p[0].Label != both[0].Label {
		t.Errorf("against the reference it is %+v", p)
	}
	do(t, v, s, TakeLook{"difference"})
	p1 = v.Panes()[0]
	if p1.Variant != picture.VariantHeldLeftTrue || p1.Masking != picture.MaskingHeldLeft || p1.Against != nil || p1.Label != "Difference of “Cool” to the reference, ΔE00" {
		t.Errorf("with the reference at the right it is of %+v", p1)
	}
	kept := v.Keep()
	again := New()
	if err := again.Recall(kept, s); err != nil || again.Left != "held-2" || again.names[0] != "Cool" {
		t.Errorf("after a reload %s stands at the left (%v)", again.Left, err)
	}
	do(t, v, s, PutSide{"right", ButSide(session.ButLight, "A")}) // as the print, but in another light
	if h := v.Held(s)[1]; h == nil || h.Seen.Light != "A" || h.Seen.Palette != s.Palette || v.Panes()[0].Against == nil {
		t.Errorf("at the right stands %+v", h)
	}
	s.Palette = "earth"
	v.Follow(s)
	if h := v.Held(s)[1]; h.Seen.Palette != "earth" || v.Right != "but-light-A" {
		t.Errorf("with another palette stands %+v at the right", h)
	}
	s.Held = nil
	v.Follow(s)
	want("reference", "but-light-A")
	for _, c := range []PutSide{{"left", "held-9"}, {"left", "held-x"}, {"left", "but-light-moon"}, {"left", "but-"}, {"above", "print"}} {
		if v.Do(c, Subject{State: s}) == nil {
			t.Errorf("%+v is done", c)
		}
	}
	other := session.New()
	if err := again.Recall(kept, &other); err != nil || again.Left != "reference" {
		t.Errorf("of a set without it %s stands at the left (%v)", again.Left, err)
	}
}

// Points lie where they are held, in every pane of the key's pixels; those off the key lie
// nowhere.
func TestPointsAreSeen(t *testing.T) {
	v, s := looking(t, "beside")
	w, _ := s.Frame()
	s.Points = []session.Point{{N: 1, Source: s.KeySource(), X: 30, Y: 20}, {N: 3, Source: s.KeySource(), X: 50, Y: 40}, {N: 4, Source: s.KeySource(), X: float64(w) + 9, Y: 1}}
	points := Points(s)
	if len(points) != 2 || points[1] != (Point{3, 50, 40}) {
		t.Fatalf("points lie at %+v", points)
	}
	for _, p := range v.Panes() {
		if in := v.PointsIn(p, points); len(in) != 2 || in[0].N != 1 {
			t.Errorf("in %s lie %+v", p.ID, in)
		}
	}
	do(t, v, s, GoToPoint{3})
	if v.Centre != [2]float64{50, 40} || v.Zoom < 1 {
		t.Errorf("point 3 brings %v into the middle, at %g", v.Centre, v.Zoom)
	}
}

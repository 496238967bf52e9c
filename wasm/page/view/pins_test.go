package view

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/session"
	"threeply/proof/warp"
)

// pinned is a session of three plates in register as scanned, the red one a quarter
// turned: the key's x is its y, the key's y counts down from 700 in its x. One pixel of
// the key is 1000 µm of the print.
func pinned(t *testing.T) (*View, *session.State) {
	t.Helper()
	v, s := looking(t, "beside")
	s.PrintWidth = 1001
	s.Sources[0].W, s.Sources[0].H = 800, 1100
	s.Found[0].Matrix = affine.Matrix{0, -1, 700, 1, 0, 0}
	s.Found[2].Matrix = affine.Identity
	s.Marks = []session.Pinned{{N: 3, Weight: 1, At: [3]session.Pin{
		{Set: true, X: 700 - 340, Y: 510, Certainty: 1},
		{Set: true, X: 510, Y: 340, Certainty: 1},
	}}}
	v.NewSet(s)
	do(t, v, s, Zoom{Percent: 100})
	v.Centre = [2]float64{500, 350}
	return v, s
}

func one(t *testing.T, pins []PanePin) PanePin {
	t.Helper()
	if len(pins) != 1 {
		t.Fatalf("%d pins, want 1: %v", len(pins), pins)
	}
	return pins[0]
}

// At 100 % about the key's 500, 350 the panes beside each other have that pixel in
// their middles, at 202, 269 and 598, 269 of the stage; the mark lies 10 to the right of
// it and 10 above.
func TestPinsBesideEachOther(t *testing.T) {
	v, s := pinned(t)
	v.Marking.Mark = 3
	for i, want := range [2]float64{212, 608} {
		if got := one(t, v.Pins(s, v.Panes()[i])); got != (PanePin{N: 3, X: want, Y: 259, Chosen: true}) {
			t.Errorf("pane %d: %+v, want it at %g, 259", i, got, want)
		}
	}
	v.Resize(Stage{W: 800, H: 500, Ratio: 2}) // 100 % is half as large
	if got := one(t, v.Pins(s, v.Panes()[0])); got.X != 207 || got.Y != 264 {
		t.Errorf("with two device pixels a CSS pixel at %g, %g, want 207, 264", got.X, got.Y)
	}
	v.Centre = [2]float64{900, 350}
	if pins := v.Pins(s, v.Panes()[0]); len(pins) != 0 {
		t.Errorf("a pin beyond the pane is drawn: %v", pins)
	}
}

// A pin that the key lacks stands where the plate that has it says, proposed; the pin of
// an offset layer moves with the layer.
func TestPinsOfLayers(t *testing.T) {
	v, s := pinned(t)
	s.Marks[0].At[1] = session.Pin{}
	if got := one(t, v.Pins(s, v.Panes()[0])); got.X != 212 || got.Y != 259 || !got.Proposed {
		t.Errorf("by the red plate it is %+v, want 212, 259 and proposed", got)
	}
	s.Offsets[2] = session.Offset{DX: 3000, DY: -2000} // cyan, of the red plate: 3 to the right, 2 up
	do(t, v, s, TakeLook{"layer"})
	do(t, v, s, ShowLayer{"cyan"})
	if got := one(t, v.Pins(s, v.Panes()[0])); got.X != 413 || got.Y != 257 || got.Proposed {
		t.Errorf("on the cyan layer it is %+v, want 413, 257", got) // the middle of one pane is 400, 269
	}
	do(t, v, s, ShowLayer{"yellow"})
	if pins := v.Pins(s, v.Panes()[0]); len(pins) != 0 {
		t.Errorf("a plate without a pin shows one: %v", pins)
	}
	do(t, v, s, TakeLook{"plate"})
	do(t, v, s, ComparePlates{2, 0})
	if got := one(t, v.Pins(s, v.Panes()[0])); got.X != 413 || got.Y != 257 || got.Filter != "" {
		t.Errorf("on the red plate as printed it is %+v, want 413, 257", got)
	}
}

// A pin follows a bent film: the bend moves what the key shows at the middle by 4, -6
// terms of p2, whose value there is -1/2.
func TestPinsOfABentPlate(t *testing.T) {
	v, s := pinned(t)
	s.Found[0].Matrix = affine.Identity
	s.LocalOn = true
	s.Local[0] = warp.Local{W: 1001, H: 700}
	s.Local[0].CX[0], s.Local[0].CY[0] = 4, -6 // of (3u²-1)/2
	// at the key's 500, 349 the bend is -2, +3: the plate shows it at 498, 352
	s.Marks[0].At = [3]session.Pin{{Set: true, X: 498, Y: 352}}
	do(t, v, s, TakeLook{"layer"})
	do(t, v, s, ShowLayer{"cyan"})
	if got := one(t, v.Pins(s, v.Panes()[0])); math.Hypot(got.X-400, got.Y-268) > 0.02 {
		t.Errorf("it is %g, %g, want 400, 268", got.X, got.Y)
	}
}

// The three plates side by side: 238 wide, their middles at 136, 400 and 664. Each
// stands in its own pixels, turned as the key lies.
func TestPinsOfThePlates(t *testing.T) {
	v, s := pinned(t)
	do(t, v, s, TakeLook{"marks"})
	do(t, v, s, Zoom{Percent: 200})
	if v.Marking.At != [3][2]float64{{350, 500}, {500, 350}, {500, 350}} {
		t.Fatalf("the middles are %v", v.Marking.At)
	}
	panes := v.Panes()
	if got := one(t, v.Pins(s, panes[0])); got != (PanePin{N: 3, X: 156, Y: 249, Filter: "red"}) {
		t.Errorf("in the red plate it is %+v, want 156, 249", got) // 10 to the right and 10 up in the key
	}
	if got := one(t, v.Pins(s, panes[1])); got != (PanePin{N: 3, X: 420, Y: 249, Filter: "green"}) {
		t.Errorf("in the green plate it is %+v, want 420, 249", got)
	}
	if pins := v.Pins(s, panes[2]); len(pins) != 0 {
		t.Errorf("the blue plate, which is not pinned, shows %v", pins)
	}
	if x, y := v.PixelAt(panes[0], 156, 249); math.Hypot(x-360, y-510) > 1e-9 {
		t.Errorf("a click on the pin is at %g, %g of the plate, want 360, 510", x, y)
	}
}

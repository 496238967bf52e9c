package command

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

func TestPlacedByHand(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	pose := session.Pose{DX: 12, DY: -7, Turn: 90, Stretch: 2, Mirrored: true}
	must(t, s, Place{Source: 2, Pose: pose})
	got := place.PoseOf(&s.State, 2)
	for i, v := range [4]float64{got.DX - pose.DX, got.DY - pose.DY, got.Turn - pose.Turn, got.Stretch - pose.Stretch} {
		if math.Abs(v) > 1e-9 {
			t.Errorf("part %d is %g off: %+v", i, v, got)
		}
	}
	if !got.Mirrored || !s.Found[2].ByHand || s.Found[0].ByHand {
		t.Errorf("placed as %+v", got)
	}
	if s.Do(Place{Source: 1, Pose: pose}, "") == nil {
		t.Error("the key itself can be placed")
	}
}

func TestLockedLayersStay(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	must(t, s, Nudge{Printer: "cyan", DX: f(200), Across: f(0.3)}, Lock{Printer: "cyan", On: true})
	for _, c := range []Command{NudgeBy{Printer: "cyan", DX: f(1)}, ResetOffset{Printer: "cyan"}, CopyOffset{Printer: "cyan", From: "yellow"}} {
		if s.Do(c, "") == nil {
			t.Errorf("%+v moves a locked layer", c)
		}
	}
	must(t, s, CopyOffset{Printer: "magenta", From: "cyan"})
	if s.Offsets[pigment.Magenta] != s.Offsets[pigment.Cyan] {
		t.Errorf("copied: %+v", s.Offsets)
	}
}

// A hand that changes one figure of a plate's pose leaves what it does not set.
func TestAHandKeepsShear(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	was := affine.Compose(affine.Parts{DX: 4, DY: -3, Turn: 0.2, StretchX: 1.004, StretchY: 1.001, Shear: 0.003}, 500, 349.5)
	s.Found[0].Matrix = was
	pose := place.PoseOf(&s.State, 0)
	pose.DX += 2
	must(t, s, Place{Source: 0, Pose: pose})
	if d := apart(place.Register(&s.State, 0), affine.Translate(2, 0).Mul(was)); d > 1e-6 {
		t.Errorf("moved by 2 px it lies %g px off", d)
	}
	pose.Mirrored = true
	must(t, s, Place{Source: 0, Pose: pose})
	if p := place.PoseOf(&s.State, 0); !p.Mirrored || math.Abs(p.DX-pose.DX) > 1e-9 || math.Abs(p.Turn-pose.Turn) > 1e-9 || math.Abs(p.Stretch-pose.Stretch) > 1e-9 {
		t.Errorf("turned over: %+v, want %+v", p, pose)
	}
	// mirrored left to right and moved by nothing, the picture's upper left is the scan's upper right
	must(t, s, Place{Source: 0, Pose: session.Pose{Mirrored: true}})
	if x, y := place.Register(&s.State, 0).Apply(0, 0); x < 900 || y > 100 {
		t.Errorf("the upper left of a mirrored plate is found at %g, %g", x, y)
	}
	must(t, s, Centre{Source: 0})
	if x, y := place.Register(&s.State, 0).Apply(500, 349.5); math.Hypot(x-499.5, y-349.5) > 1e-9 || place.PoseOf(&s.State, 0) != (session.Pose{DX: -0.5}) {
		t.Errorf("centre on centre: %g, %g, %+v", x, y, place.PoseOf(&s.State, 0))
	}
}

package view

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/session"
)

func at(x, y float64) point { return point{&x, &y} }

// A drag moves the plate under the pointer alone, or all three: a way over the stage is
// the same way over each picture, whatever the plate is turned.
func TestPlatesArePanned(t *testing.T) {
	v, s := pinned(t)
	do(t, v, s, TakeLook{"marks"})
	do(t, v, s, Zoom{Percent: 400})
	v.Resize(Stage{W: 800, H: 500, Ratio: 2}) // one CSS pixel is half a pixel of the key
	do(t, v, s, Pan{point: at(100, 100), DX: 8, DY: -12})
	if want := [3][2]float64{{350 - 6, 500 - 4}, {500, 350}, {500, 350}}; v.Marking.At != want {
		t.Errorf("the red plate alone: %v, want %v", v.Marking.At, want) // 4 to the right is 4 down in it, 6 up is 6 to the right
	}
	do(t, v, s, Pan{point: at(400, 100), DX: 2, DY: 2, Together: true})
	if want := [3][2]float64{{345, 495}, {499, 349}, {499, 349}}; v.Marking.At != want {
		t.Errorf("all three: %v, want %v", v.Marking.At, want)
	}
	do(t, v, s, SetTogether{true})
	do(t, v, s, Pan{point: at(400, 100), DX: 2000})
	if v.Marking.At[1] != [2]float64{0, 349} {
		t.Errorf("the green plate is panned out of its pane: %v", v.Marking.At[1])
	}
}

// The plates begin at the place that was in the middle, or at the chosen mark.
func TestPlatesMeet(t *testing.T) {
	v, s := pinned(t)
	v.Centre = [2]float64{200, 100}
	do(t, v, s, TakeLook{"marks"})
	if want := [3][2]float64{{600, 200}, {200, 100}, {200, 100}}; v.Marking.At != want {
		t.Errorf("about the middle: %v, want %v", v.Marking.At, want)
	}
	s.Marks[0].At[0].X += 5 // pinned elsewhere than the map has it
	do(t, v, s, GoToMark{3})
	if want := [3][2]float64{{365, 510}, {510, 340}, {510, 340}}; v.Marking.At != want {
		t.Errorf("about the mark: %v, want %v", v.Marking.At, want)
	}
	do(t, v, s, Zoom{Fit: true})
	if want := [3][2]float64{{350.5, 500}, {500, 349.5}, {500, 349.5}}; v.Marking.At != want || math.Abs(v.Marking.Zoom-238.0/1001) > 1e-12 {
		t.Errorf("fitted: %v at %g", v.Marking.At, v.Marking.Zoom)
	}
	do(t, v, s, Zoom{By: 1e9})
	if v.Marking.Zoom != mostMarkZoom || v.ZoomSaid() != mostMarkZoom {
		t.Errorf("the largest zoom is %g", v.Marking.Zoom)
	}
}

// Proposed places are brought where the pane that was pinned shows the mark.
func TestMeetProposals(t *testing.T) {
	v, s := pinned(t)
	do(t, v, s, TakeLook{"marks"}) // about 500, 350: the mark is 10 to the right and 10 up
	v.Marking.Filter = 1
	s.Marks[0].At[0] = session.Pin{Set: true, X: 100, Y: 200, Proposed: true}
	s.Marks[0].At[2] = session.Pin{Set: true, X: 300, Y: 300} // set by a person: stays
	v.MeetProposals(s, 3)
	if want := [3][2]float64{{90, 190}, {500, 350}, {500, 350}}; v.Marking.At != want {
		t.Errorf("the middles are %v, want %v", v.Marking.At, want)
	}
}

func TestMarksInTurn(t *testing.T) {
	v, s := pinned(t)
	s.Marks = append(s.Marks, session.Pinned{N: 7, Weight: 1, At: [3]session.Pin{1: {Set: true, X: 900, Y: 600}}})
	for _, want := range []int{3, 7, 3} {
		do(t, v, s, NextMark{})
		if v.Marking.Mark != want {
			t.Errorf("the next mark is %d, want %d", v.Marking.Mark, want)
		}
	}
	do(t, v, s, NextMark{})
	if v.Centre != [2]float64{900, 600} {
		t.Errorf("mark 7 brings %v into the middle", v.Centre)
	}
	for _, want := range []int{1, 2, 0} {
		do(t, v, s, NextPlate{})
		if v.Marking.Filter != want {
			t.Errorf("the next plate is %d, want %d", v.Marking.Filter, want)
		}
	}
	do(t, v, s, ChooseMark{N: 3, Filter: "blue"})
	if m, ok := v.ChosenMark(s); !ok || m.N != 3 || v.Marking.Filter != 2 {
		t.Errorf("chosen is %v, %t, in plate %d", m, ok, v.Marking.Filter)
	}
	s.Marks = s.Marks[1:]
	if _, ok := v.ChosenMark(s); ok {
		t.Error("a mark that was undone is chosen")
	}
}

// Where register is not sure, two marks say where the plates lie.
func TestBestPlace(t *testing.T) {
	_, s := pinned(t)
	if got := BestPlace(s, 0); got != s.Found[0].Matrix {
		t.Errorf("register is sure, and its map is %v", got)
	}
	s.Found[0] = session.Found{Matrix: affine.Identity, Confidence: 0.1}
	s.Marks = []session.Pinned{
		{N: 1, Weight: 1, At: [3]session.Pin{{Set: true, X: 110, Y: 220}, {Set: true, X: 100, Y: 200}, {}}},
		{N: 2, Weight: 1, At: [3]session.Pin{{Set: true, X: 310, Y: 420}, {Set: true, X: 300, Y: 400}, {}}},
	}
	if x, y := BestPlace(s, 0).Apply(500, 500); math.Hypot(x-510, y-520) > 1e-9 {
		t.Errorf("by the marks 500, 500 is %g, %g, want 510, 520", x, y)
	}
	if BestPlace(s, 1) != affine.Identity {
		t.Error("the key does not lie still")
	}
}

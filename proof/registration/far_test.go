package registration

import (
	"context"
	"reflect"
	"testing"

	"threeply/proof/plane"
)

// distant gives the tiles of a plane that is at hand.
type distant struct{ *plane.Plane }

func (d distant) Tiles(numbers []int, codes [][]uint16) {
	across := (d.W + plane.TileSide - 1) / plane.TileSide
	for i, n := range numbers {
		x, y := n%across*plane.TileSide, n/across*plane.TileSide
		for row := range min(plane.TileSide, d.H-y) {
			copy(codes[i][row*plane.TileSide:][:plane.TileSide], d.Row(y + row)[x:])
		}
	}
}

// Plates of which only the parts that are looked at are had are registered as those that are at hand,
// to the last digit, and the scale and the blur found too.
func TestFarPlatesAreRegisteredAlike(t *testing.T) {
	near := shown()
	s := state(near)
	var far [3]*plane.Plane
	for i, p := range near {
		far[i] = plane.Far(p.W, p.H, distant{p})
		far[i].Halved(p.Half())
	}
	want, err := Register(context.Background(), &s, near, nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Register(context.Background(), &s, far, nil)
	if err != nil {
		t.Fatal(err)
	}
	in := want.On(&s)
	want.Seen = Look(&in, near)
	in = got.On(&s)
	got.Seen = Look(&in, far)
	if !reflect.DeepEqual(got, want) {
		t.Errorf("found\n%+v, want\n%+v", got.Found, want.Found)
	}
	if want.Found[0].Confidence < 0.5 || want.Blur == [3]float64{} {
		t.Errorf("the plates are not found at all: %+v, blur %v", want.Found, want.Blur)
	}
}

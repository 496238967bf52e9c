package transfer

import (
	"slices"
	"testing"
)

// The three routes in common practice: what is put down first, whether the
// printing negatives are reversed, and how the stack lies on the way.
func TestRoutesAsPractised(t *testing.T) {
	order := []string{"Y", "M", "C"}
	for _, c := range []struct {
		id       string
		put      []string
		reversed bool
		steps    []string
		right    []bool
		surface  string
	}{
		{"direct", []string{"Y", "M", "C"}, true, []string{"YMC"}, []bool{true}, "relief out"},
		{"clear-paper", []string{"C", "M", "Y"}, false, []string{"CMY", "YMC"}, []bool{false, true}, "cast of the clear support"},
		{"clear-temporary-paper", []string{"Y", "M", "C"}, true, []string{"YMC", "CMY", "YMC"}, []bool{true, false, true}, "relief out"},
	} {
		r, ok := RouteByID(c.id)
		if !ok {
			t.Fatalf("no route %s", c.id)
		}
		if got := PutDown(r, order); !slices.Equal(got, c.put) {
			t.Errorf("%s: put down %v, want %v", c.id, got, c.put)
		}
		if r.Reversed() != c.reversed || r.OuterSurface() != c.surface {
			t.Errorf("%s: reversed %v, %s", c.id, r.Reversed(), r.OuterSurface())
		}
		for i, s := range Steps(r, order) {
			lies := s.Layers[0] + s.Layers[1] + s.Layers[2]
			if lies != c.steps[i] || s.Right != c.right[i] {
				t.Errorf("%s on the %s: %s, right %v", c.id, s.Support, lies, s.Right)
			}
		}
	}
}

// A picture put through the mirrorings one by one agrees with the counted rule.
func TestReversedAgreesWithMirroringAPicture(t *testing.T) {
	for _, r := range Routes() {
		picture := []int{1, 2, 3}
		if r.Reversed() {
			slices.Reverse(picture)
		}
		for range r.Supports {
			slices.Reverse(picture)
		}
		if !slices.Equal(picture, []int{1, 2, 3}) {
			t.Errorf("%s: the print reads %v", r.ID, picture)
		}
	}
}

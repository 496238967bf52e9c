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

// A route of one's own is held to what can be worked, and its surface is that of the routes in
// use with as many transfers.
func TestOwnRoute(t *testing.T) {
	two, ok := RouteByID("clear-paper")
	if own := OwnRoute([]string{"clear support", "card"}); !ok || own.Check() != nil || own.OuterSurface() != two.OuterSurface() || own.Reversed() != two.Reversed() {
		t.Errorf("%+v: %v, %s", own, own.Check(), own.OuterSurface())
	}
	for _, supports := range [][]string{nil, {"film", " "}, {"a", "b", "c", "d", "e", "f", "g"}} {
		if err := OwnRoute(supports).Check(); err == nil {
			t.Errorf("a route over %q passes", supports)
		}
	}
}

// A picture put through the mirrorings one by one agrees with the counted rule.
func TestReversedAgreesWithMirroringAPicture(t *testing.T) {
	for _, r := range append(Routes(), OwnRoute([]string{"film", "glass", "silk", "card"})) {
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

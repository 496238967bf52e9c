package register

import (
	"context"
	"slices"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// TestProposeTheBetterKey makes plates of one scene of which some are out of focus, warped
// or covered in part: that such a key is given up for one of the good ones, that a good
// one is kept whatever the others are, and that among good plates the user's choice stands.
func TestProposeTheBetterKey(t *testing.T) {
	t.Parallel()
	const w, h = 400, 300
	s := drawn(w, h, 4)
	take := func(blur, noise float64, seed uint64) *plane.Plane {
		return s.shoot(w, h, 1, shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, blur: blur, noise: noise, m: affine.Identity}, seed)
	}
	good := [3]*plane.Plane{take(0.4, 0.02, 1), take(0.4, 0.02, 2), take(0.4, 0.02, 3)}
	soft, warped, covered := take(3, 0.02, 4), bent(take(0.4, 0.02, 5), 3), take(0.4, 0.02, 6)
	for y := range h { // a blot over a third of the plate
		for x := range w / 3 {
			covered.Pix[y*w+x] = 50000
		}
	}
	names := [3]string{"red", "green", "blue"}
	for _, c := range []struct {
		name   string
		planes [3]*plane.Plane
		key    int
		bad    []int // the plates that are not as good as the others
	}{
		{"three good ones", good, 0, nil}, {"three good ones", good, 2, nil},
		{"a soft key", [3]*plane.Plane{good[0], soft, good[2]}, 1, []int{1}},
		{"another soft one", [3]*plane.Plane{good[0], soft, good[2]}, 2, []int{1}},
		{"a warped key", [3]*plane.Plane{warped, good[1], good[2]}, 0, []int{0}},
		{"a covered key", [3]*plane.Plane{good[0], good[1], covered}, 2, []int{2}},
		{"a covered one beside", [3]*plane.Plane{good[0], good[1], covered}, 0, []int{2}},
	} {
		opt := Options{Key: c.key}
		found, err := Planes(context.Background(), c.planes, opt)
		if err != nil {
			t.Fatal(err)
		}
		p := Propose(c.planes, opt, found, names)
		t.Logf("%s, key %d: %d proposed, %.2f, %s", c.name, c.key, p.Key, p.Score, p.Why)
		badKey := slices.Contains(c.bad, c.key)
		switch {
		case badKey && slices.Contains(c.bad, p.Key):
			t.Errorf("%s: it stays the key, scores %.2f", c.name, p.Score)
		case !badKey && p.Key != c.key:
			t.Errorf("%s: key %d is given up for %d, scores %.2f", c.name, c.key, p.Key, p.Score)
		}
		if want := names[p.Key]; !strings.Contains(p.Why, want) {
			t.Errorf("%s: %s is proposed, in words “%s”", c.name, want, p.Why)
		}
		for _, bad := range c.bad {
			for i, score := range p.Score {
				if i != bad && score <= p.Score[bad] {
					t.Errorf("%s: plate %d scores %.2f, the bad one %.2f", c.name, i, score, p.Score[bad])
				}
			}
		}
	}
}

func TestProposeKeepsTheKeyWhereNothingFits(t *testing.T) {
	t.Parallel()
	a := view(drawn(500, 400, 4), 1)
	planes := [3]*plane.Plane{a, a, flatPlane(500, 400)}
	opt := Options{Key: 1}
	found, err := Planes(context.Background(), planes, opt)
	if err != nil {
		t.Fatal(err)
	}
	if p := Propose(planes, opt, found, [3]string{"red", "green", "blue"}); p.Key != 1 || p.Why == "" {
		t.Errorf("%+v", p)
	}
}

package register

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

func locate(key, other *plane.Plane, polarity [2]bool, m affine.Matrix, x, y float64) (at Place, ok bool) {
	a, ok := LookAround(key, other, polarity, m, x, y)
	if !ok {
		return at, false
	}
	return a.Find()
}

// TestLocate puts marks where the map so far is tens of pixels off.
func TestLocate(t *testing.T) {
	t.Parallel()
	s := drawn(1000, 750, 4)
	m := about(1000, 750, affine.Parts{DX: 21.4, DY: -17.3, Turn: 0.8, StretchX: 1.01, StretchY: 1.006})
	mix := [3]float64{0.3, 0.4, 0.3}
	key := s.shoot(1000, 750, 1, shot{mix: mix, gamma: 0.8, negative: true, noise: 0.01, m: affine.Identity}, 1)
	other := s.shoot(1000, 750, 1, shot{mix: mix, gamma: 0.7, blur: 0.5, noise: 0.02, m: m}, 2)
	turned := m
	turned[2], turned[5] = m[2]-19, m[5]+16
	for _, c := range []struct {
		name  string
		start affine.Matrix
		limit float64
	}{
		{"the turn and stretch are known", turned, 0.15},
		{"nothing is known", affine.Identity, 0.5},
	} {
		var worst float64
		for _, at := range [][2]float64{{300, 250}, {500.5, 350.25}, {800, 500}, {90, 650}, {900, 100}} {
			got, ok := locate(key, other, [2]bool{true, false}, c.start, at[0], at[1])
			if !ok {
				t.Errorf("%s: nothing found at %v", c.name, at)
				continue
			}
			x, y := m.Apply(at[0], at[1])
			worst = max(worst, math.Hypot(got.X-x, got.Y-y))
		}
		t.Logf("%s: largest error %.3f px", c.name, worst)
		if worst > c.limit {
			t.Errorf("%s: a mark is %.3f px off", c.name, worst)
		}
	}
}

func TestLocateWhereNothingIs(t *testing.T) {
	key := view(drawn(500, 400, 4), 1)
	for _, at := range [][2]float64{{-5, 10}, {600, 10}, {math.NaN(), 3}, {100, 100}} {
		if got, ok := locate(key, flatPlane(500, 400), [2]bool{}, affine.Identity, at[0], at[1]); ok {
			t.Errorf("%v is found at %+v of an empty plate", at, got)
		}
	}
	if got, ok := locate(flatPlane(7, 5), flatPlane(3, 3), [2]bool{}, affine.Identity, 2, 2); ok {
		t.Errorf("found %+v in a few pixels", got)
	}
}

// TestLocateOnSoftGround holds that a feature of blurred plates is proposed, though at full
// size it resembles all that lies within the search, and that what is proposed with
// certainty lies there.
func TestLocateOnSoftGround(t *testing.T) {
	t.Parallel()
	const w, h = 900, 700
	s := drawn(w, h, 4)
	m := about(w, h, affine.Parts{DX: 5.4, DY: -3.3, Turn: 0.3, StretchX: 1.002, StretchY: 1.001})
	soft := shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, negative: true, noise: 0.006, blur: 2.5, m: affine.Identity}
	key := s.shoot(w, h, 1, soft, 1)
	soft.gamma, soft.m = 0.7, m
	other := s.shoot(w, h, 1, soft, 2)
	found := 0
	for y := 150.0; y < 600; y += 100 {
		for x := 150.0; x < 800; x += 120 {
			got, ok := locate(key, other, [2]bool{true, true}, affine.Identity, x, y)
			if !ok || got.Certainty < certainFrom {
				continue
			}
			found++
			px, py := m.Apply(x, y)
			if d := math.Hypot(got.X-px, got.Y-py); d > 1.5 {
				t.Errorf("at %g, %g: certain to %.2f, and %.2f px off", x, y, got.Certainty, d)
			}
		}
	}
	t.Logf("%d of 30 are proposed with certainty", found)
	if found < 20 {
		t.Errorf("%d of 30 are proposed with certainty", found)
	}
}

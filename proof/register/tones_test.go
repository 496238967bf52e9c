package register

import (
	"context"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// TestTwinsAreSaid holds that one scan given twice is told of, whichever
// two of the plates it is.
func TestTwinsAreSaid(t *testing.T) {
	t.Parallel()
	s := drawn(220, 180, 4)
	a, b := view(s, 1), view(s, 2)
	for _, c := range []struct {
		planes [3]*plane.Plane
		twin   [3]bool
	}{
		{[3]*plane.Plane{a, a, b}, [3]bool{true, true, false}},
		{[3]*plane.Plane{b, a, b}, [3]bool{true, false, true}},
		{[3]*plane.Plane{a, b, view(s, 3)}, [3]bool{}},
	} {
		got, err := Planes(context.Background(), c.planes, Options{Key: 1})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range got {
			if p.Twin != c.twin[i] {
				t.Errorf("plate %d: twin %v, want %v", i, p.Twin, c.twin[i])
			}
		}
	}
}

// TestAlikeAreAsked holds that a second scan of one plate, moved, darker and with
// noise of its own, is told from another plate of the same scene.
func TestAlikeAreAsked(t *testing.T) {
	t.Parallel()
	s := drawn(350, 250, 4)
	red, green, blue := [3]float64{0.9, 0.1, 0}, [3]float64{0.1, 0.8, 0.1}, [3]float64{0, 0.2, 0.8}
	at := func(dx, turn float64) affine.Matrix {
		return affine.Compose(affine.Parts{DX: dx, DY: -1.7, Turn: turn, StretchX: 1.003, StretchY: 1.003}, 175, 125)
	}
	plate := func(mix [3]float64, m affine.Matrix, exposure uint16, seed uint64) *plane.Plane {
		p := s.shoot(s.w, s.h, 1, shot{mix: mix, gamma: 0.8, negative: true, noise: 0.02, dust: 20, border: 0.03, m: m}, seed)
		for i := range p.Pix {
			p.Pix[i] += exposure
		}
		return p
	}
	for name, c := range map[string]struct {
		planes [3]*plane.Plane
		alike  [3]bool
	}{
		"three plates":    {[3]*plane.Plane{plate(red, at(3, 0.4), 0, 1), plate(green, affine.Identity, 0, 2), plate(blue, at(-5, -0.2), 900, 3)}, [3]bool{}},
		"the key again":   {[3]*plane.Plane{plate(red, at(3, 0.4), 0, 1), plate(green, affine.Identity, 0, 2), plate(green, at(-5, -0.2), 900, 3)}, [3]bool{false, true, true}},
		"red again":       {[3]*plane.Plane{plate(red, at(3, 0.4), 0, 1), plate(green, affine.Identity, 0, 2), plate(red, at(-5, -0.2), 900, 3)}, [3]bool{true, false, true}},
		"one three times": {[3]*plane.Plane{plate(green, at(3, 0.4), 300, 1), plate(green, affine.Identity, 0, 2), plate(green, at(-5, -0.2), 900, 3)}, [3]bool{true, true, true}},
	} {
		got, err := Planes(context.Background(), c.planes, Options{Key: 1, Polarity: [3]bool{true, true, true}})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range got {
			if p.Alike != c.alike[i] || p.Confidence < 0.8 {
				t.Errorf("%s: plate %d alike %v, want %v; confidence %.2f", name, i, p.Alike, c.alike[i], p.Confidence)
			}
		}
	}
}

// The tones of a negative run against those of a positive, whatever is said of them,
// and those of two filters with one another.
func TestTonesOfNegativesAndPositives(t *testing.T) {
	t.Parallel()
	s := drawn(400, 310, 14)
	look := func(mix [3]float64, negative bool, seed uint64) *plane.Plane {
		return s.shoot(400, 310, 1, shot{mix: mix, gamma: 0.8, negative: negative, noise: 0.01, m: affine.Identity}, seed)
	}
	planes := [3]*plane.Plane{look([3]float64{0.6, 0.3, 0.1}, true, 1), look([3]float64{0.2, 0.7, 0.1}, false, 2), look([3]float64{0.1, 0.6, 0.3}, false, 3)}
	got, err := Planes(context.Background(), planes, Options{Key: 1})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("negative against positive %.2f, positive against positive %.2f", got[0].Tones, got[2].Tones)
	if got[0].Tones > -0.4 || got[2].Tones < 0.4 || got[1].Tones != 0 {
		t.Errorf("%.2f, %.2f, key %.2f", got[0].Tones, got[2].Tones, got[1].Tones)
	}
}

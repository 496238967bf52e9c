package register

import (
	"context"
	"math"
	"testing"

	"threeply/proof/affine"
)

// TestSoftenIsTheSumItSays holds soften to the sum over the whole kernel, pixel by pixel.
func TestSoftenIsTheSumItSays(t *testing.T) {
	const w, h = 9, 7
	pic := newTones(w, h)
	for i := range pic.v {
		pic.v[i] = float32(i * i % 23)
	}
	half := halfKernel(1.7)
	at := func(x, y int) float64 {
		return float64(pic.v[min(max(y, 0), h-1)*w+min(max(x, 0), w-1)])
	}
	of := func(k int) float64 { return float64(half[max(k, -k)]) }
	r := len(half) - 1
	var want [w * h]float64
	var all, variance float64
	for i := -r; i <= r; i++ {
		all, variance = all+of(i), variance+of(i)*float64(i*i)
	}
	for y := range h {
		for x := range w {
			for j := -r; j <= r; j++ {
				for i := -r; i <= r; i++ {
					want[y*w+x] += of(i) * of(j) * at(x+i, y+j)
				}
			}
		}
	}
	soften(&room{}, pic, half)
	for i, v := range pic.v {
		if math.Abs(float64(v)-want[i]) > 1e-4 {
			t.Fatalf("pixel %d: %g, want %g", i, v, want[i])
		}
	}
	if math.Abs(all-1) > 1e-6 || math.Abs(variance-1.7) > 0.1 {
		t.Errorf("the kernel sums to %g and has a variance of %g, want 1 and 1.7", all, variance)
	}
}

// TestASofterPlateIsToldAndLiesWhereItDoes draws a plate softer than its key, and sharper, of
// another contrast and polarity: by how much is told, and the map is as near as of plates that are
// equally sharp.
func TestASofterPlateIsToldAndLiesWhereItDoes(t *testing.T) {
	t.Parallel()
	const w, h = 480, 400
	s := drawn(w, h, 12)
	m := about(w, h, affine.Parts{DX: 4.3, DY: -2.7, Turn: 0.2, StretchX: 1.002, StretchY: 1.001})
	for _, c := range []struct{ key, other float64 }{{0.4, 0.4}, {0.4, 1.2}, {1.4, 0.5}, {0.3, 2.6}} {
		mix := [3]float64{0.3, 0.5, 0.2}
		key := newPyramid(s.shoot(w, h, 1, shot{mix: mix, gamma: 0.9, noise: 0.01, blur: c.key, m: affine.Identity}, 1), false, [4]int{})
		other := newPyramid(s.shoot(w, h, 1, shot{mix: mix, gamma: 0.7, negative: true, noise: 0.01, blur: c.other, m: m}, 2), true, [4]int{})
		p := &pair{keyPlate: newKeyPlate(key), other: other}
		g := newMatcher(p.last())
		found := p.stepNear(context.Background(), candidate{m: m}, g, nearby, stiffLast)
		want := c.other*c.other - c.key*c.key
		is := p.softer(found, p.last(), 0.9, 0.7)
		lies := p.remeasureEqualised(context.Background(), found, p.last(), nearby)
		rms, worst := errorsOf(lies.m, m, w, h)
		doubtfulPlacesLieWhereTheLookTells(t, p, &lies)
		before, _ := errorsOf(found.m, m, w, h)
		t.Logf("σ %.1f and %.1f px: softer by %.2f px², want %.2f; rms %.3f before, %.3f after, worst %.3f px", c.key, c.other, is, want, before, rms, worst)
		if math.Abs(is-want) > 0.4 {
			t.Errorf("σ %.1f and %.1f px: softer by %.2f px², want %.2f", c.key, c.other, is, want)
		}
		if rms > 0.03 || worst > 0.07 {
			t.Errorf("σ %.1f and %.1f px: the map is %.3f px off, %.3f at worst", c.key, c.other, rms, worst)
		}
	}
}

// doubtfulPlacesLieWhereTheLookTells has each sure place of a plate told to lie off by more than a
// pixel, and by three pixels of a map that is wrong by as much: where it fits about as well by the
// map it is measured there if that is right, and left alone if it is not, or if it fits much worse.
func doubtfulPlacesLieWhereTheLookTells(t *testing.T, p *pair, c *candidate) {
	t.Helper()
	const much, little = 0.97, 0.6 // of its score, that a place fits by the map
	aside, far := [2]float64{1.3, 1.1}, [2]float64{3, 0}
	tell := func(m affine.Matrix, off [2]float64, home float64) (places []measured) {
		for _, f := range c.patches {
			if certainty(f) >= 0.8 && f.agrees(0.3) && len(places) < 5 {
				f.dx, f.dy, f.home = off[0], off[1], home*f.score
				places = append(places, f)
			}
		}
		p.nudgeEqualised(c.look, p.last(), m, places)
		return places
	}
	for what, told := range map[string]struct {
		m    affine.Matrix
		off  [2]float64
		home float64
		want [2]float64
	}{
		"the map is right":                   {c.m, aside, much, [2]float64{}},
		"it fits much worse by the map":      {c.m, far, little, far},
		"the map is wrong, the place is not": {c.m.Mul(affine.Translate(-far[0], -far[1])), far, much, far},
	} {
		places := tell(told.m, told.off, told.home)
		if len(places) == 0 {
			t.Fatal("no sure place")
		}
		for _, f := range places {
			if math.Hypot(f.dx-told.want[0], f.dy-told.want[1]) > 0.3 {
				t.Errorf("%s: a place is measured at %.2f, %.2f px, want %g", what, f.dx, f.dy, told.want)
			}
		}
	}
}

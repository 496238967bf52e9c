package register

import (
	"math"
	"testing"

	"threeply/proof/affine"
)

// TestHatchingIsMeasuredByWhatLiesAround draws a square of hatching, which fits itself a few
// pixels further on, into a plate that bends: where it lies is known from what lies around
// it, so that it is measured too, and where it truly lies.
func TestHatchingIsMeasuredByWhatLiesAround(t *testing.T) {
	t.Parallel()
	const w, h, period = 900, 640, 8
	s := *drawn(w, h, 17)
	in := func(x, y float64) bool { return x > 0.35*w && x < 0.7*w && y > 0.3*h && y < 0.75*h }
	for c := range s.rgb {
		s.rgb[c] = append([]float32(nil), s.rgb[c]...)
		for i := range s.rgb[c] {
			if x, y := i%w, i/w; in(float64(x), float64(y)) {
				s.rgb[c][i] = float32(0.3 + 0.1*math.Sin(2*math.Pi*float64(x)/period) + 0.1*math.Sin(2*math.Pi*float64(y)/period))
			}
		}
	}
	wave := func(x, y float64) (dx, dy float64) { return bend(x/w, y/h, 3) }
	look := shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, noise: 0.01, m: affine.Identity}
	key := s.shoot(w, h, 1, look, 1)
	look.bend = wave
	p := whole(t, key, s.shoot(w, h, 1, look, 2), [2]bool{})
	all, sure, worst := 0, 0, 0.0
	for _, o := range p.Field {
		if !in(o.X-50, o.Y-50) || !in(o.X+50, o.Y+50) {
			continue
		}
		all++
		if !o.Sure() {
			continue
		}
		sure++
		px, py := o.X, o.Y
		for range 30 {
			dx, dy := wave(px, py)
			px, py = o.X+dx, o.Y+dy
		}
		u, v := p.Matrix.Apply(o.X+o.DX, o.Y+o.DY)
		worst = max(worst, math.Hypot(u-px, v-py))
	}
	t.Logf("%d of %d places in the hatching are measured, the worst %.2f px off; outvoted %.2f, confidence %.2f, coverage %.2f", sure, all, worst, p.Outvoted, p.Confidence, p.Survey.Coverage())
	if all < 5 || sure < all*3/4 || worst > 0.5 || p.Outvoted > Moved {
		t.Errorf("%d of %d places in the hatching are measured, the worst %.2f px off; outvoted %.2f", sure, all, worst, p.Outvoted)
	}
}

package place

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/session/sessiontest"
)

// What is reached is held against every pixel's own way to the plates.
func TestReachedIsWhatThePixelsReach(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 40 {
		s := sessiontest.Opened()
		w, h := s.Frame()
		for _, i := range []int{0, 2} {
			s.Found[i].Matrix = affine.Compose(affine.Parts{
				DX: rnd.NormFloat64() * 200, DY: rnd.NormFloat64() * 150, Turn: rnd.Float64() * 360, StretchX: 0.8 + 0.6*rnd.Float64(), StretchY: 1 - 2*float64(rnd.IntN(2)),
			}, float64(w)/2, float64(h)/2)
		}
		n, missing := 0, 0
		for y := 2; y < h; y += 5 {
			for x := 2; x < w; x += 5 {
				n++
				for i := range 3 {
					px, py := Register(&s, i).Apply(float64(x), float64(y))
					if px < -0.5 || py < -0.5 || px > float64(s.Sources[i].W)-0.5 || py > float64(s.Sources[i].H)-0.5 {
						missing++
						break
					}
				}
			}
		}
		if got, want := Unreached(&s, 0, 1, 2), float64(missing)/float64(n); math.Abs(got-want) > 0.01 {
			t.Errorf("%.4f is not reached, by the pixels %.4f", got, want)
		}
	}
}

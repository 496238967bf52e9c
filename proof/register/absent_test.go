package register

import (
	"slices"
	"testing"

	"threeply/proof/affine"
)

// TestGrainAndDustAreNoLostPart holds that where the picture is one dark tone, and the plates show
// their grain and dust there and nothing else, no part is told of as lost; one is where the key
// shows the picture and the plate is blank.
func TestGrainAndDustAreNoLostPart(t *testing.T) {
	t.Parallel()
	const w, h = 480, 360
	s := *drawn(w, h, 12)
	dark := [4]int{120, 60, 360, 300} // x0, y0, x1, y1
	for c := range s.rgb {
		s.rgb[c] = slices.Clone(s.rgb[c])
		for y := dark[1]; y < dark[3]; y++ {
			for x := dark[0]; x < dark[2]; x++ {
				s.rgb[c][y*w+x] = 0.01
			}
		}
	}
	look := shot{mix: [3]float64{0.3, 0.5, 0.2}, gamma: 0.7, negative: true, noise: 0.018, dust: 25, m: affine.Identity}
	key := s.shoot(w, h, 1, look, 1)
	look.m = about(w, h, affine.Parts{DX: 2.3, DY: -1.7, Turn: 0.2, StretchX: 1.001, StretchY: 1.002})
	whole := s.shoot(w, h, 1, look, 2)
	torn := whole.Crop(0, 0, w, h)
	for y := range h / 7 {
		for x := range w {
			torn.Pix[y*w+x] = uint16(3000 + 40*((x*7+y*13)%11)) // the scanner's light, and its noise
		}
	}
	got := registerAll(t, key, wholeNegatives(w, h), whole, torn)
	for i, p := range got {
		t.Logf("confidence %.2f, lost %v%s", p.Confidence, Lost(&p.Survey), lines(&p.Survey))
		if lost := Lost(&p.Survey); p.Outcome != Found || (lost != nil) != (i == 1) {
			t.Errorf("%s, lost %v%s", p.Outcome, lost, lines(&p.Survey))
		}
	}
}

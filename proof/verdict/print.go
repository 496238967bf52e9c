package verdict

import (
	"fmt"
	"math"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/words"
)

// Print is what is thought of how the layers are laid over each other on the bench: of
// the offsets on the print alone, whatever the scans leave. Lengths are µm on the print.
type Print struct {
	Sign     string // "in" or "out"
	Sentence string

	Largest       float64         // between any two layers, at the worst place
	First, Second pigment.Printer // the two of Largest
	X, Y          float64         // its place in the key, pixels
	Threshold     float64         // the user's own tolerance, or what the eye sees
	FromTolerance bool            // Threshold is the user's
}

// OfPrint judges the offsets of the layers on the print.
func OfPrint(s *session.State) Print {
	v := Print{Threshold: s.EyeMicrons(), First: pigment.Yellow, Second: pigment.Cyan}
	if s.Tolerance > 0 {
		v.Threshold, v.FromTolerance = s.Tolerance, true
	}
	w, h := s.Frame()
	um := s.PixelMicrons()
	var maps [3]affine.Matrix
	for p := range maps {
		maps[p] = place.Offset(s, pigment.Printer(p))
	}
	right, low := float64(w-1), float64(h-1)
	for _, c := range [4][2]float64{{0, 0}, {right, 0}, {0, low}, {right, low}} { // affine maps lie farthest apart in a corner
		for a := range 3 {
			for b := a + 1; b < 3; b++ {
				ax, ay := maps[a].Apply(c[0], c[1])
				bx, by := maps[b].Apply(c[0], c[1])
				if d := math.Hypot(ax-bx, ay-by) * um; d > v.Largest+1e-9 {
					v.Largest, v.First, v.Second, v.X, v.Y = d, pigment.Printer(a), pigment.Printer(b), c[0], c[1]
				}
			}
		}
	}
	limit := fmt.Sprintf("the %s that the eye sees at %s", words.Microns(v.Threshold), words.Millimetres(s.ViewingDist))
	if v.FromTolerance {
		limit = "your tolerance of " + words.Microns(v.Threshold)
	}
	switch {
	case v.Largest < 0.5:
		v.Sign, v.Sentence = "in", "No offset is set."
	case v.Largest <= v.Threshold:
		v.Sign, v.Sentence = "in", fmt.Sprintf("The offsets part two layers by up to %s, within %s.", words.Microns(v.Largest), limit)
	default:
		v.Sign, v.Sentence = "out", fmt.Sprintf("The offsets part %s and %s by up to %s, %.1f times %s.", v.First, v.Second, words.Microns(v.Largest), v.Largest/v.Threshold, limit)
	}
	return v
}

package verdict

import (
	"math"

	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
)

// Against is how a layer lies on the print against the one that the printer
// registers to on the bench.
type Against struct {
	DX, DY float64 // µm at the picture's centre, to the right and down
	Worst  float64 // µm at the place where it is farthest off
	X, Y   float64 // that place, in pixels of the key
}

// AgainstBench compares the offsets of a layer and of the bench's layer. Maps
// that are affine lie farthest apart in a corner.
func AgainstBench(s *session.State, p pigment.Printer) Against {
	w, h := s.Frame()
	um := s.PixelMicrons()
	mine, bench := place.Offset(s, p), place.Offset(s, s.BenchPrinter())
	off := func(x, y float64) (dx, dy float64) {
		ax, ay := mine.Apply(x, y)
		bx, by := bench.Apply(x, y)
		return (ax - bx) * um, (ay - by) * um
	}
	right, low := float64(w-1), float64(h-1)
	var a Against
	a.DX, a.DY = off(right/2, low/2)
	for _, c := range [4][2]float64{{0, 0}, {right, 0}, {0, low}, {right, low}} {
		if d := math.Hypot(off(c[0], c[1])); d > a.Worst {
			a.Worst, a.X, a.Y = d, c[0], c[1]
		}
	}
	return a
}

// Package place works out where plates and layers lie by what a session holds: maps
// from the pixels of the key plate to the pixels of each scan. Pixel centres lie at
// whole numbers.
package place

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/warp"
)

// Path is the way from a key pixel to a pixel of a plate: ToKey undoes the
// layer's offset, where it has one, Local, where it is not nil, adds what is left
// smoothly of register, and ToPlate is register's matrix.
type Path struct {
	ToKey   affine.Matrix
	Local   *warp.Local
	ToPlate affine.Matrix
}

// Apply returns the plate's pixel.
func (p Path) Apply(x, y float64) (float64, float64) {
	x, y = p.ToKey.Apply(x, y)
	if p.Local != nil {
		dx, dy := p.Local.At(x, y)
		x, y = x+dx, y+dy
	}
	return p.ToPlate.Apply(x, y)
}

// Rows bounds the rows of the plate that the way leads to from a box of the key, the corners
// of which are pixel centres.
func (p Path) Rows(x0, y0, x1, y1 float64) (low, high float64) {
	whole := p.Affine()
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range [4][2]float64{{x0, y0}, {x1, y0}, {x0, y1}, {x1, y1}} {
		_, y := whole.Apply(c[0], c[1])
		low, high = min(low, y), max(high, y)
	}
	if p.Local != nil {
		more := p.Local.Largest() * math.Hypot(p.ToPlate[3], p.ToPlate[4])
		low, high = low-more, high+more
	}
	return low, high
}

// settleSteps are enough to undo a local register, which is smooth and small.
const settleSteps = 4

// Back returns the key's pixel that a plate's pixel is reached from; ok is false
// where the way cannot be undone.
func (p Path) Back(x, y float64) (kx, ky float64, ok bool) {
	fromPlate, fine := p.ToPlate.Inverse()
	toPrint, ok := p.ToKey.Inverse()
	if !ok || !fine {
		return 0, 0, false
	}
	x, y = fromPlate.Apply(x, y)
	if p.Local != nil {
		px, py := x, y
		for range settleSteps {
			dx, dy := p.Local.At(px, py)
			px, py = x-dx, y-dy
		}
		x, y = px, py
	}
	x, y = toPrint.Apply(x, y)
	return x, y, true
}

// Affine is Path without the local part.
func (p Path) Affine() affine.Matrix { return p.ToPlate.Mul(p.ToKey) }

// Plate returns the way from the key's pixel to source i in register: where
// its layer lies if nothing slips.
func Plate(s *session.State, i int) Path {
	return Path{ToKey: affine.Identity, Local: Local(s, i), ToPlate: Register(s, i)}
}

// Layer returns the way from the key's pixel to the plate of a printer, its
// offset on the print with it. A layer moved to the right shows at x what register
// has at x less the move.
func Layer(s *session.State, p pigment.Printer) Path {
	place := Plate(s, s.SourceOf(p))
	if inv, ok := Offset(s, p).Inverse(); ok {
		place.ToKey = inv
	}
	return place
}

// LayerMatrix is Layer without the local part.
func LayerMatrix(s *session.State, p pigment.Printer) affine.Matrix { return Layer(s, p).Affine() }

// OnKey returns the key's pixel where a pixel of a source lies in register; ok is false
// where the way cannot be undone.
func OnKey(s *session.State, source int, x, y float64) (kx, ky float64, ok bool) {
	return Plate(s, source).Back(x, y)
}

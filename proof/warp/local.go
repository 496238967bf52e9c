// Package warp describes how unevenly shrunken film differs from a flat map: a
// smooth displacement, found from places where the difference was measured.
package warp

import "math"

// Local is a smooth displacement that is left in the key's frame after the
// affine map, as unevenly shrunken film leaves it: the plate shows at
// Matrix·(x + d(x)) what the key shows at x. Each of d's two parts is a sum of
// the seven products of Legendre polynomials of degree two and three; the
// affine part is the matrix's own. W 0 stands for none.
type Local struct {
	W  int            `json:"w"`
	H  int            `json:"h"`
	CX [terms]float64 `json:"cx"` // pixels of the key
	CY [terms]float64 `json:"cy"`

	// Before and After sum up offsets that the fit had not seen: each fifth
	// of the places against a fit to the others.
	Before Residual `json:"before"`
	After  Residual `json:"after"`
}

const terms = 7

// basis evaluates the products at (x, y), scaled to -1..1 over the picture.
func (l *Local) basis(x, y float64) [terms]float64 {
	u, v := 2*x/float64(max(l.W-1, 1))-1, 2*y/float64(max(l.H-1, 1))-1
	u, v = min(max(u, -1), 1), min(max(v, -1), 1)
	p2 := func(t float64) float64 { return (3*t*t - 1) / 2 }
	p3 := func(t float64) float64 { return (5*t*t*t - 3*t) / 2 }
	return [terms]float64{p2(u), u * v, p2(v), p3(u), p2(u) * v, u * p2(v), p3(v)}
}

// At is the displacement at the key's pixel (x, y).
func (l *Local) At(x, y float64) (dx, dy float64) {
	for i, b := range l.basis(x, y) {
		dx += l.CX[i] * b
		dy += l.CY[i] * b
	}
	return dx, dy
}

// Worth tells whether switching the displacement on betters the register: of
// places that the fit had not seen it leaves at most nine tenths at the median,
// and at 95 % no more than before. Else it follows chance errors of the places that it was fitted to.
func (l *Local) Worth() bool {
	return l.W != 0 && l.After.Median <= 0.9*l.Before.Median && l.After.P95 <= l.Before.P95
}

// Largest bounds how far any place is moved, in pixels of the key.
func (l *Local) Largest() float64 {
	var x, y float64
	for i := range l.CX {
		x, y = x+math.Abs(l.CX[i]), y+math.Abs(l.CY[i])
	}
	return math.Hypot(x, y)
}

// Folds says whether the displacement turns any part of the picture over, or
// shrinks it below half.
func (l *Local) Folds() bool {
	const n = 24
	sx, sy := float64(l.W-1)/n, float64(l.H-1)/n
	for j := range n {
		for i := range n {
			x, y := float64(i)*sx, float64(j)*sy
			ax, ay := l.At(x, y)
			bx, by := l.At(x+sx, y)
			cx, cy := l.At(x, y+sy)
			det := (1+(bx-ax)/sx)*(1+(cy-ay)/sy) - (cx-ax)/sy*(by-ay)/sx
			if !(det > 0.5) {
				return true
			}
		}
	}
	return false
}

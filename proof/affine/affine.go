// Package affine holds plane affine maps between pixel frames: pixel centres
// at whole numbers, x to the right, y down, angles in degrees and clockwise as
// seen on the screen.
package affine

import "math"

// Matrix is the map (x, y) → (m[0]x + m[1]y + m[2], m[3]x + m[4]y + m[5]), row
// by row: a11, a12, a13, a21, a22, a23.
type Matrix [6]float64

// Identity leaves every point where it is.
var Identity = Matrix{1, 0, 0, 0, 1, 0}

// Translate moves every point by (dx, dy).
func Translate(dx, dy float64) Matrix { return Matrix{1, 0, dx, 0, 1, dy} }

// Scale multiplies both coordinates, about the origin.
func Scale(sx, sy float64) Matrix { return Matrix{sx, 0, 0, 0, sy, 0} }

// Apply returns the image of (x, y).
func (m Matrix) Apply(x, y float64) (float64, float64) {
	return m[0]*x + m[1]*y + m[2], m[3]*x + m[4]*y + m[5]
}

// Mul returns the map that applies n first, then m.
func (m Matrix) Mul(n Matrix) Matrix {
	return Matrix{
		m[0]*n[0] + m[1]*n[3], m[0]*n[1] + m[1]*n[4], m[0]*n[2] + m[1]*n[5] + m[2],
		m[3]*n[0] + m[4]*n[3], m[3]*n[1] + m[4]*n[4], m[3]*n[2] + m[4]*n[5] + m[5],
	}
}

// Det is the factor by which areas grow; negative where the map mirrors.
func (m Matrix) Det() float64 { return m[0]*m[4] - m[1]*m[3] }

// Inverse returns the map back. ok is false where m folds the plane to a line
// or holds a value that is not finite.
func (m Matrix) Inverse() (inv Matrix, ok bool) {
	d := m.Det()
	if d == 0 || math.IsNaN(d) || math.IsInf(d, 0) {
		return Identity, false
	}
	inv = Matrix{m[4] / d, -m[1] / d, 0, -m[3] / d, m[0] / d, 0}
	inv[2] = -(inv[0]*m[2] + inv[1]*m[5])
	inv[5] = -(inv[3]*m[2] + inv[4]*m[5])
	return inv, !math.IsNaN(inv[2]+inv[5]) && !math.IsInf(inv[2]+inv[5], 0)
}

// About returns m taken about the point (cx, cy) in place of the origin.
func (m Matrix) About(cx, cy float64) Matrix {
	return Translate(cx, cy).Mul(m).Mul(Translate(-cx, -cy))
}

// Parts is what a person reads in a map near the identity: where the point
// (cx, cy) goes, how far the picture turns, and how it stretches.
type Parts struct {
	DX, DY             float64 // displacement of the point, pixels
	Turn               float64 // degrees, clockwise on the screen
	StretchX, StretchY float64 // factors along the turned axes, 1 for none
	Shear              float64 // tangent of the angle by which the axes miss a right one
}

// Decompose splits m about (cx, cy) as turn · shear · stretch, so that
// m = Compose(m.Decompose(cx, cy), cx, cy). A mirroring m has a negative
// StretchY.
func (m Matrix) Decompose(cx, cy float64) Parts {
	x, y := m.Apply(cx, cy)
	sx := math.Hypot(m[0], m[3])
	if sx == 0 {
		return Parts{DX: x - cx, DY: y - cy}
	}
	c, s := m[0]/sx, m[3]/sx
	k := c*m[1] + s*m[4]
	sy := c*m[4] - s*m[1]
	p := Parts{DX: x - cx, DY: y - cy, Turn: math.Atan2(s, c) * 180 / math.Pi, StretchX: sx, StretchY: sy}
	if sy != 0 {
		p.Shear = k / sy
	}
	return p
}

// Compose builds the map that Decompose splits.
func Compose(p Parts, cx, cy float64) Matrix {
	sin, cos := math.Sincos(p.Turn * math.Pi / 180)
	turn := Matrix{cos, -sin, 0, sin, cos, 0}
	shear := Matrix{1, p.Shear, 0, 0, 1, 0}
	m := turn.Mul(shear).Mul(Scale(p.StretchX, p.StretchY)).About(cx, cy)
	return Translate(p.DX, p.DY).Mul(m)
}

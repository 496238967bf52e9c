package affine

import "math"

// Resized takes the pixels of a picture to those of the same picture resized by a
// factor above 0. Pixels are squares about whole numbers, so that x goes to
// (x + 0.5)·factor - 0.5.
func Resized(factor float64) Matrix {
	o := (factor - 1) / 2
	return Matrix{factor, 0, o, 0, factor, o}
}

// ToLevel takes full-size pixels to those of level l of a pyramid, each 2^l of the
// full size wide; see plane.Pyramid.
func ToLevel(l int) Matrix { return Resized(math.Exp2(-float64(l))) }

// FromLevel takes the pixels of level l of a pyramid to those of the full size.
func FromLevel(l int) Matrix { return Resized(math.Exp2(float64(l))) }

package spectrum

import "threeply/proof/linear"

// Adapt returns the matrix, row by row, that takes XYZ seen under the white
// from to the corresponding colour under the white to: Bradford's transform in
// its linear form (Lam 1985; ICC.1:2022 annex E).
//
//	M⁻¹ · diag(M·to / M·from) · M
func Adapt(from, to XYZ) [9]float64 {
	f, t := apply(bradford, from), apply(bradford, to)
	scaled := bradford
	for i := range 3 {
		for j := range 3 {
			scaled[3*i+j] *= t[i] / f[i]
		}
	}
	return multiply(Inverse(bradford), scaled)
}

// Transform returns the product of a matrix, row by row, and XYZ.
func Transform(m [9]float64, x XYZ) XYZ { return apply(m, x) }

// Inverse returns the inverse of a regular matrix, row by row.
func Inverse(m [9]float64) [9]float64 {
	inverse := [9]float64{1, 0, 0, 0, 1, 0, 0, 0, 1}
	if !linear.Solve(m[:], inverse[:], 0) {
		panic("spectrum: a matrix without an inverse")
	}
	return inverse
}

var bradford = [9]float64{
	0.8951, 0.2664, -0.1614,
	-0.7502, 1.7135, 0.0367,
	0.0389, -0.0685, 1.0296,
}

func apply(m [9]float64, v [3]float64) [3]float64 {
	return [3]float64{
		m[0]*v[0] + m[1]*v[1] + m[2]*v[2],
		m[3]*v[0] + m[4]*v[1] + m[5]*v[2],
		m[6]*v[0] + m[7]*v[1] + m[8]*v[2],
	}
}

func multiply(a, b [9]float64) [9]float64 {
	var c [9]float64
	for i := range 3 {
		for j := range 3 {
			c[3*i+j] = a[3*i]*b[j] + a[3*i+1]*b[3+j] + a[3*i+2]*b[6+j]
		}
	}
	return c
}

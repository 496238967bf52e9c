package mask

import (
	"errors"
	"math"

	"threeply/proof/linear"
)

// Matrix takes the tones of the three printers as the plates give them to the
// tones they should have, row by row, in the order yellow, magenta, cyan. Its
// rows sum to 1, so that a neutral stays the neutral it was.
type Matrix [9]float64

// None is no mask: each plate prints its own layer.
var None = Matrix{1, 0, 0, 0, 1, 0, 0, 0, 1}

// Apply returns the masked tones, not limited to 0..1.
func (m Matrix) Apply(u [3]float64) [3]float64 {
	return [3]float64{
		m[0]*u[0] + m[1]*u[1] + m[2]*u[2],
		m[3]*u[0] + m[4]*u[1] + m[5]*u[2],
		m[6]*u[0] + m[7]*u[1] + m[8]*u[2],
	}
}

// ErrTooFew is returned where the samples say nothing of colour: fewer than
// three, or all of them neutral.
var ErrTooFew = errors.New("no masks can be found: the picture has too few colours; print unmasked")

// Fit finds the masks by least squares. plates and wanted are tones of the same
// points of the picture, by printer, on the grey scale of the print: 0 where
// neutral paper, 1 where the depth is meant. wanted is what the inverse of the
// stack asks for to match the reference. Points that are not finite are left
// out.
//
//	wanted_i ≈ plate_i + Σ m_ij (plate_j - plate_i),  j ≠ i
//
// A mask made of another plate takes a share of the difference of the two off
// a printer and leaves neutrals alone (J. A. C. Yule, Principles of Color
// Reproduction, 1967, on masking equations; the constraint is ours).
func Fit(plates, wanted [][3]float64) (Matrix, error) {
	if len(plates) != len(wanted) {
		return None, errors.New("plates and wanted tones differ in number")
	}
	m := None
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		var moments linear.Symmetric
		var jr, kr float64
		n := 0
		for s, p := range plates {
			dj, dk, r := p[j]-p[i], p[k]-p[i], wanted[s][i]-p[i]
			if v := dj + dk + r; math.IsNaN(v) || math.IsInf(v, 0) {
				continue
			}
			n++
			moments.Add(1, dj, dk)
			jr, kr = jr+dj*r, kr+dk*r
		}
		both := moments.XX + moments.YY
		if n < 3 || !(moments.Det() > 1e-9*both*both) || !(both > 1e-9*float64(n)) {
			return None, ErrTooFew
		}
		a, b := moments.Solve(jr, kr)
		m[3*i+j], m[3*i+k], m[3*i+i] = a, b, 1-a-b
	}
	return m, nil
}

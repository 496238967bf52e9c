package balance

import (
	"math"

	"threeply/proof/spectrum"
)

// Thickness returns the relative thicknesses, by printer, of the tone u of the
// scale: 0 bare paper, 1 the depth, equal steps in L*. Between the points each
// layer follows a cubic that neither overshoots nor falls (F. N. Fritsch and
// J. Butland, SIAM J. Sci. Stat. Comput. 5, 1984, 300). u beyond the ends is
// taken for the ends. An empty scale has no pigment anywhere.
func (s Scale) Thickness(u float64) [3]float64 {
	last := len(s.T) - 1
	if last < 1 || math.IsNaN(u) {
		return [3]float64{}
	}
	x := min(max(u, 0), 1) * float64(last)
	i := int(x)
	if i == last {
		return s.T[last]
	}
	x -= float64(i)
	var t [3]float64
	for j := range t {
		secant := func(k int) float64 { return s.T[k+1][j] - s.T[k][j] }
		h := secant(i)
		m0, m1 := h, h
		if i > 0 {
			m0 = harmonic(secant(i-1), h)
		}
		if i < last-1 {
			m1 = harmonic(h, secant(i+1))
		}
		t[j] = s.T[i][j] + x*(m0+x*((3*h-2*m0-m1)+x*(m0+m1-2*h)))
	}
	return t
}

// Onto brings a colour of a reference, white L* 100 and black 0, to the lightness and
// the tint of the print's scale from paper to depth: what it is fairly compared
// with, since no print is whiter than its paper or blacker than its depth.
func (s Scale) Onto(l spectrum.Lab) spectrum.Lab {
	tint := fade(s.Paper, s.Depth.Lab, 1-l[0]/100)
	return spectrum.Lab{tint[0], l[1] + tint[1], l[2] + tint[2]}
}

// harmonic is the slope at a point between two secants of equal width.
func harmonic(a, b float64) float64 {
	if a*b <= 0 {
		return 0
	}
	return 2 * a * b / (a + b)
}

// Tones is the inverse of Thickness, layer by layer: the tones of the grey
// scale, 0..1, at which each layer has the relative thickness t. What is
// thicker than the depth's has tone 1.
func (s Scale) Tones(t [3]float64) [3]float64 {
	var u [3]float64
	for j := range u {
		lo, hi := 0.0, 1.0
		for range 40 {
			if mid := (lo + hi) / 2; s.Thickness(mid)[j] < t[j] {
				lo = mid
			} else {
				hi = mid
			}
		}
		u[j] = hi
	}
	return u
}

package spectrum

import "math"

// XYZ holds tristimulus values of the CIE 1931 2° observer, the perfect
// diffuser at Y 100.
type XYZ [3]float64

// Lab holds CIELAB 1976 coordinates: L* 0..100, a* and b*.
type Lab [3]float64

// The CIE's own fractions (CIE 15:2018, section 8.2.1), never rounded ones.
const (
	delta   = 6.0 / 29
	epsilon = delta * delta * delta // below it the root gives way to a line
	slope   = 1 / (3 * delta * delta)
)

// Lab returns the CIELAB coordinates against white.
//
//	L* = 116 f(Y/Yn) - 16   a* = 500 (f(X/Xn) - f(Y/Yn))   b* = 200 (f(Y/Yn) - f(Z/Zn))
//	f(t) = t^(1/3) above (6/29)³, else t/(3 (6/29)²) + 4/29
//
// Ratios below 0 and above 1 go through the same formulas.
func (x XYZ) Lab(white XYZ) Lab {
	fx, fy, fz := root(x[0]/white[0]), root(x[1]/white[1]), root(x[2]/white[2])
	return Lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

// XYZ is the inverse of XYZ.Lab.
func (l Lab) XYZ(white XYZ) XYZ {
	fy := (l[0] + 16) / 116
	return XYZ{white[0] * cube(fy+l[1]/500), white[1] * cube(fy), white[2] * cube(fy-l[2]/200)}
}

// Distance is the Euclidean distance in CIELAB, ΔE*ab of 1976.
func (l Lab) Distance(m Lab) float64 {
	d0, d1, d2 := l[0]-m[0], l[1]-m[1], l[2]-m[2]
	return math.Sqrt(d0*d0 + d1*d1 + d2*d2)
}

func root(t float64) float64 {
	if t > epsilon {
		return math.Cbrt(t)
	}
	return t*slope + 4.0/29
}

func cube(f float64) float64 {
	if f > delta {
		return f * f * f
	}
	return (f - 4.0/29) / slope
}

package stack

import "math"

// Film returns the reflectance and the transmittance of a layer of thickness
// x ≥ 0 with absorption k ≥ 0 and scattering s ≥ 0 per unit thickness, over
// black and without a surface of its own.
//
//	γ = √(k(k+2s))   R = s·sh/(γ·ch + (k+s)·sh)   T = γ/(γ·ch + (k+s)·sh)
//
// with sh = sinh γx and ch = cosh γx (P. Kubelka, JOSA 38, 1948, 448, with
// a = 1 + k/s and b = γ/s). Both are divided by γ·e^γx here, so that no
// difference of like numbers is left: s → 0 ends in Lambert and Beer's
// R = 0, T = e^-kx, k → 0 in R = sx/(1+sx), T = 1/(1+sx), and a layer as thick
// as one likes in R∞.
func Film(k, s, x float64) (r, t float64) {
	g := math.Sqrt(k*(k+2*s)) * x
	sh, ch, e := x, 1.0, 1.0 // sinh(γx)/γ and cosh(γx), each times e = e^-γx
	if g > 0 {
		var less float64 // 1 - e, exact where γx is small, as e is where it is large
		if g < 1 {
			less = -math.Expm1(-g)
			e = 1 - less
		} else {
			e = math.Exp(-g)
			less = 1 - e
		}
		m := less * (1 + e) // 1 - e^-2γx
		sh = x * m / (2 * g)
		ch = 1 - m/2
	}
	d := 1 / (ch + (k+s)*sh)
	return s * sh * d, e * d
}

// Over returns the reflectance of a film of reflectance r and transmittance t
// over a ground of reflectance below (P. Kubelka, JOSA 44, 1954, 330).
func Over(r, t, below float64) float64 { return r + t*t*below/(1-r*below) }

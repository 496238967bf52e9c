package spectrum

import "math"

// The spectral products of ISO 5-3 status A, peak 100, from 420 nm in steps of
// 10, as tabulated in a BSD-3-licensed colour library after ISO 5-3:2009. The
// red one has 0.01 at 740 nm more; it is counted at 730.
var (
	statusARed   = tenNm(600, 0.37, 43.45, 100, 74.3, 40.18, 19.32, 7.94, 3.56, 1.46, 0.6, 0.24, 0.09, 0.04, 0.02)
	statusAGreen = tenNm(500, 0.04, 6.64, 60.53, 100, 80.54, 44.06, 16.63, 4.06, 0.58, 0.04)
	statusABlue  = tenNm(420, 4, 65.92, 100, 81.66, 41.69, 10.96, 0.79, 0.04)
)

// visual is V(λ) times illuminant A: ISO 5-3 visual density.
var visual = func() Curve {
	l := NewLight("", "", powerA)
	return l.weights[1]
}()

func tenNm(first int, values ...float64) Curve {
	var c Curve
	for i, v := range values {
		c[(first-First)/Step+2*i] = v
	}
	return c
}

// VisualDensity returns the ISO 5-3 visual density of a reflectance, absolute:
// the perfect diffuser has 0. The largest it returns is MaxDensity.
func VisualDensity(r Curve) float64 { return density(&visual, &r) }

// StatusA returns the ISO 5-3 status A densities through red, green and blue,
// absolute. The red one tells of the cyan layer, the green of the magenta, the
// blue of the yellow. The largest it returns is MaxDensity.
func StatusA(r Curve) [3]float64 {
	return [3]float64{density(&statusARed, &r), density(&statusAGreen, &r), density(&statusABlue, &r)}
}

// MaxDensity stands for no light at all.
const MaxDensity = 6

// density is log10(Σw / Σw r).
func density(w, r *Curve) float64 {
	full, seen := 0.0, 0.0
	for i := range w {
		full += w[i]
		seen += w[i] * r[i]
	}
	if seen <= full*1e-6 {
		return MaxDensity
	}
	return math.Log10(full / seen)
}

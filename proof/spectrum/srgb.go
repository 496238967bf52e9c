package spectrum

import "math"

// whiteSRGB is the display white of IEC 61966-2-1, chromaticity 0.3127 0.3290.
var whiteSRGB = XYZ{100 * 0.3127 / 0.3290, 100, 100 * (1 - 0.3127 - 0.3290) / 0.3290}

// fromXYZ takes XYZ, display white at Y 100, to linear sRGB, white at 1: the
// inverse of the matrix made of the primaries of ITU-R BT.709 and whiteSRGB.
var fromXYZ = func() [9]float64 {
	p := [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}
	var m [9]float64
	for j, c := range p {
		m[j], m[3+j], m[6+j] = c[0]/c[1], 1, (1-c[0]-c[1])/c[1]
	}
	s := apply(invert(m), whiteSRGB)
	for i := range m {
		m[i] *= s[i%3]
	}
	return invert(m)
}()

// LinearSRGB returns the linear sRGB values, 0..1 inside the gamut and beyond
// it outside, of a colour seen under white: adapted to the display's D65 and
// not clamped. Light of another colour than white gives values of any sign.
func LinearSRGB(x XYZ, white XYZ) [3]float64 {
	return apply(ToLinearSRGB(white), x)
}

// ToLinearSRGB returns the matrix, row by row, of LinearSRGB for one white.
func ToLinearSRGB(white XYZ) [9]float64 {
	return multiply(fromXYZ, Adapt(white, whiteSRGB))
}

// EncodeSRGB is the transfer curve of IEC 61966-2-1, 0..1 to 0..1, continued
// above 1 by its formula and below 0 as an odd function.
func EncodeSRGB(v float64) float64 {
	if v < 0 {
		return -EncodeSRGB(-v)
	}
	if v <= 0.0031308 {
		return 12.92 * v
	}
	c := math.Cbrt(v) // v^(1/2.4) = v^(1/3) v^(1/12), several times faster than Pow
	return 1.055*c*math.Sqrt(math.Sqrt(c)) - 0.055
}

// DecodeSRGB is the inverse of EncodeSRGB. The standard rounds its break point,
// so the two miss each other by 1e-8 there.
func DecodeSRGB(v float64) float64 {
	if v < 0 {
		return -DecodeSRGB(-v)
	}
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

package spectrum

import (
	"fmt"
	"math"
)

// LinearSRGB returns the linear sRGB values, 0..1 inside the gamut and beyond
// it outside, of a colour seen under white: adapted to the display's D65 and
// not clamped. Light of another colour than white gives values of any sign.
func LinearSRGB(x XYZ, white XYZ) [3]float64 {
	return apply(ToLinearSRGB(white), x)
}

// ToLinearSRGB returns the matrix, row by row, of LinearSRGB for one white.
func ToLinearSRGB(white XYZ) [9]float64 { return SRGB.FromXYZ(white) }

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

// HexSRGB writes a colour in linear sRGB as #rrggbb, held within 0 … 1.
func HexSRGB(linear [3]float64) string {
	var b [3]uint8
	for i, v := range linear {
		b[i] = uint8(math.Round(255 * min(max(EncodeSRGB(v), 0), 1)))
	}
	return fmt.Sprintf("#%02x%02x%02x", b[0], b[1], b[2])
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

package spectrum

// RGBSpace is an RGB space of three primaries with the white and the curve of
// sRGB (IEC 61966-2-1).
type RGBSpace struct {
	Name      string
	Primaries [3][2]float64 // chromaticities x, y of red, green and blue
}

var (
	// SRGB has the primaries of ITU-R BT.709.
	SRGB = RGBSpace{"sRGB", [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}}
	// DisplayP3 has the wider ones of SMPTE RP 431-2.
	DisplayP3 = RGBSpace{"Display P3", [3][2]float64{{0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}}}
)

// DisplayWhite is the white of both, of chromaticity 0.3127 0.3290.
var DisplayWhite = XYZ{100 * 0.3127 / 0.3290, 100, 100 * (1 - 0.3127 - 0.3290) / 0.3290}

// ToXYZ returns the matrix, row by row, from linear RGB, white at 1, to XYZ with
// DisplayWhite at Y 100.
func (s RGBSpace) ToXYZ() [9]float64 {
	var m [9]float64
	for j, p := range s.Primaries {
		m[j], m[3+j], m[6+j] = p[0]/p[1], 1, (1-p[0]-p[1])/p[1]
	}
	share := apply(Inverse(m), DisplayWhite)
	for i := range m {
		m[i] *= share[i%3]
	}
	return m
}

// FromXYZ returns the matrix, row by row, from XYZ of colours seen under white
// to linear RGB: adapted to DisplayWhite, then the inverse of ToXYZ.
func (s RGBSpace) FromXYZ(white XYZ) [9]float64 {
	return multiply(Inverse(s.ToXYZ()), Adapt(white, DisplayWhite))
}

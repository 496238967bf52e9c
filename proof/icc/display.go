package icc

import (
	"encoding/binary"
	"time"

	"threeply/proof/spectrum"
)

// A Space is an RGB space of three primaries with the white and the curve of
// sRGB (IEC 61966-2-1).
type Space struct {
	Name      string
	primaries [3][2]float64 // x, y
}

var (
	// SRGB has the primaries of ITU-R BT.709.
	SRGB = Space{"sRGB", [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}}
	// DisplayP3 has the wider ones of SMPTE RP 431-2.
	DisplayP3 = Space{"Display P3", [3][2]float64{{0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}}}
)

// d65 is the white of both, x 0.3127, y 0.3290.
var d65 = spectrum.XYZ{100 * 0.3127 / 0.3290, 100, 100 * (1 - 0.3127 - 0.3290) / 0.3290}

// primed is the date of display profiles: the same bytes every time.
var primed = time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)

// ToXYZ returns the matrix, row by row, from linear RGB, white at 1, to XYZ,
// white at Y 100 and D65.
func (s Space) ToXYZ() [9]float64 {
	var m [9]float64
	for j, p := range s.primaries {
		m[j], m[3+j], m[6+j] = p[0]/p[1], 1, (1-p[0]-p[1])/p[1]
	}
	share := spectrum.Transform(spectrum.Inverse(m), d65)
	for i := range m {
		m[i] *= share[i%3]
	}
	return m
}

// FromXYZ returns the inverse of ToXYZ after Bradford's adaptation from white:
// colours under any light to linear RGB.
func (s Space) FromXYZ(white spectrum.XYZ) [9]float64 {
	back, adapt := spectrum.Inverse(s.ToXYZ()), spectrum.Adapt(white, d65)
	var m [9]float64
	for j := range 3 {
		c := spectrum.Transform(back, spectrum.XYZ{adapt[j], adapt[3+j], adapt[6+j]})
		m[j], m[3+j], m[6+j] = c[0], c[1], c[2]
	}
	return m
}

// Profile returns the space as a display profile to embed in a picture, 3 kB.
func (s Space) Profile() []byte {
	m, adapt := s.ToXYZ(), spectrum.Adapt(d65, d50)
	colorant := func(j int) []byte {
		return xyzTag(spectrum.Transform(adapt, spectrum.XYZ{m[j], m[3+j], m[6+j]}))
	}
	const steps = 1024
	trc := binary.BigEndian.AppendUint32([]byte("curv\x00\x00\x00\x00"), steps)
	for _, v := range curve(steps, spectrum.DecodeSRGB) {
		trc = binary.BigEndian.AppendUint16(trc, v)
	}
	return assemble(displayKind, primed, []tag{
		{[]string{"desc"}, descTag(s.Name)},
		{[]string{"cprt"}, textTag("No copyright, use freely.")},
		{[]string{"wtpt"}, xyzTag(d50)},
		{[]string{"rXYZ"}, colorant(0)},
		{[]string{"gXYZ"}, colorant(1)},
		{[]string{"bXYZ"}, colorant(2)},
		{[]string{"rTRC", "gTRC", "bTRC"}, trc},
	})
}

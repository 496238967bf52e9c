package icc

import (
	"encoding/binary"
	"math"
)

// filmKind is a profile of grey values by their light.
const filmKind = "mntrGRAYXYZ "

// filmSteps are enough for the light between two of them to be off by less than the
// rounding of the table.
const filmSteps = 4096

// Film returns what the codes of a film's picture are, as a grey profile to embed:
// density takes a code, 0 … 1, to its density above the clear film, and
//
//	Y = 10^-density
//
// with the clear film for white (ISO 5-2; ICC.1:2001-04, 6.3.2.1: a monochrome profile
// is one curve from device to connection space). A program that knows profiles so
// has no reason to convert the picture, and shows it as the film will look. 16 bits
// hold a density of 3 to 0.004. The name says what the profile is.
func Film(name string, density func(code float64) float64) []byte {
	trc := binary.BigEndian.AppendUint32([]byte("curv\x00\x00\x00\x00"), filmSteps)
	for _, v := range curve(filmSteps, func(code float64) float64 { return math.Pow(10, -density(code)) }) {
		trc = binary.BigEndian.AppendUint16(trc, v)
	}
	return assemble(filmKind, primed, []tag{
		{[]string{"desc"}, descTag(name)},
		{[]string{"cprt"}, textTag("No copyright, use freely.")},
		{[]string{"wtpt"}, xyzTag(d50)},
		{[]string{"kTRC"}, trc},
	})
}

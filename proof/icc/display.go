package icc

import (
	"encoding/binary"
	"time"

	"threeply/proof/spectrum"
)

// primed is the date of display profiles: the same bytes every time.
var primed = time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)

// Display returns an RGB space as a display profile to embed in a picture, 3 kB.
func Display(s spectrum.RGBSpace) []byte {
	m, adapt := s.ToXYZ(), spectrum.Adapt(spectrum.DisplayWhite, d50)
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

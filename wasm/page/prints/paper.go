package prints

import (
	"image/color"
	"math"

	"threeply/proof/cube"
	"threeply/proof/spectrum"
)

// PaperOnScreen is the colour in which the canvas shows the bare paper of a print: that
// of the table where no layer has any thickness.
func (p Print) PaperOnScreen() color.NRGBA {
	out := [3]uint8{}
	for i, code := range p.Table[:3] {
		v := float64(code)*cube.EncodedSpan/65535 + cube.EncodedMin
		out[i] = uint8(math.Round(255 * min(max(v, 0), 1)))
	}
	return color.NRGBA{out[0], out[1], out[2], 255}
}

// NeutralLike is a grey of the same luminance as a colour of the screen (IEC 61966-2-1).
func NeutralLike(c color.NRGBA) color.NRGBA {
	y := 0.0
	for i, v := range [3]uint8{c.R, c.G, c.B} {
		y += [3]float64{0.2126, 0.7152, 0.0722}[i] * spectrum.DecodeSRGB(float64(v)/255)
	}
	grey := uint8(math.Round(255 * spectrum.EncodeSRGB(y)))
	return color.NRGBA{grey, grey, grey, 255}
}

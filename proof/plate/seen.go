package plate

import (
	"image"
	"math"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// viewGamma is the exponent by which the transmittance of a scan is shown: about that of
// a display.
const viewGamma = 2.2

// Seen is a plane of density codes as light as the scan is, for a display.
func Seen(p *plane.Plane) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, p.W, p.H))
	for i, code := range p.Pix {
		out.Pix[i] = byte(math.Round(255 * math.Pow(10, -float64(code)*density.Max/65535/viewGamma)))
	}
	return out
}

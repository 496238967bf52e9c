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

// Seen is a plane of density codes as light as the scan is, for a display that shows the code
// lightest as white: a dense negative would be black all over.
func Seen(p *plane.Plane, lightest uint16) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, p.W, p.H))
	for i, code := range p.Pix {
		d := float64(max(code, lightest)-lightest) * density.Max / 65535
		out.Pix[i] = byte(math.Round(255 * math.Pow(10, -d/viewGamma)))
	}
	return out
}

// Lightest is the density code, to 0.001, that but a hundredth of some plane's pixels are lighter than:
// of the planes the lightest.
func Lightest(planes ...*plane.Plane) uint16 {
	lightest := math.MaxUint16
	for _, p := range planes {
		var counts [1 << 12]int
		for _, code := range p.Pix {
			counts[code>>4]++
		}
		below := 0
		for i, n := range counts {
			if below += n; below > len(p.Pix)/100 {
				lightest = min(lightest, i<<4)
				break
			}
		}
	}
	return uint16(lightest)
}

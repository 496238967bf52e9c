package cube

import (
	"math/rand/v2"
	"testing"

	"threeply/proof/spectrum"
)

func asItIs(x spectrum.XYZ) spectrum.XYZ { return x }

func TestEncodedAsAnotherRoom(t *testing.T) {
	r, light := anyRecipe(rand.New(rand.NewPCG(29, 30))), spectrum.Lights()[0]
	c := New(r, light, 5)
	dark := c.EncodedIn(spectrum.SRGB, func(x spectrum.XYZ) spectrum.XYZ { return spectrum.XYZ{x[0] / 2, x[1] / 2, x[2] / 2} })
	for i, v := range c.EncodedIn(spectrum.SRGB, asItIs) {
		bright := spectrum.DecodeSRGB(EncodedSpan*float64(v)/65535 + EncodedMin)
		half := spectrum.DecodeSRGB(EncodedSpan*float64(dark[i])/65535 + EncodedMin)
		if d := bright/2 - half; !(d < 1e-4 && d > -1e-4) {
			t.Fatalf("code %d: %v of %v", i, half, bright)
		}
	}
}

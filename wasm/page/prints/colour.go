package prints

import (
	"threeply/proof/gamut"
	"threeply/proof/picture"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// narrow is what controls are drawn in, whatever the canvas has.
var narrow = gamut.Of(spectrum.SRGB)

// Hex is a reflectance under a light as an sRGB colour, adapted to the display's white
// and, where sRGB does not have it, shown as the pictures show it.
func Hex(r spectrum.Curve, light spectrum.Light) string {
	return spectrum.HexSRGB(narrow.Show(spectrum.Transform(spectrum.Adapt(light.White, spectrum.DisplayWhite), light.XYZ(r))))
}

// Swatch is the colour of one layer alone at full coated strength on the paper of a
// recipe, or of the bare paper for a negative printer.
func Swatch(p *picture.Printing, r stack.Recipe, printer int) string {
	var t [3]float64
	if printer >= 0 {
		t[printer] = 1
	}
	return Hex(r.Reflectance(t), p.Light)
}

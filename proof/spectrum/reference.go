package spectrum

// srgbToD50 takes linear sRGB, white at 1, to XYZ under D50.
var srgbToD50 = Inverse(ToLinearSRGB(lights[0].White))

// SRGBLab returns the CIELAB of a linear sRGB colour (0 … 1) relative to D50,
// its white brought from D65 by the Bradford adaptation: what a reference on
// the screen is measured as beside a print under D50.
func SRGBLab(linear [3]float64) Lab {
	return XYZ(apply(srgbToD50, linear)).Lab(lights[0].White)
}

package spectrum

// SRGBLab returns the CIELAB of a linear sRGB colour (0 … 1) relative to D50,
// its white brought from D65 by the Bradford adaptation: what a reference on
// the screen is measured as beside a print under D50.
func SRGBLab(linear [3]float64) Lab {
	d50, _ := LightByID("D50")
	xyz := apply(invert(ToLinearSRGB(d50.White)), linear)
	return XYZ(xyz).Lab(d50.White)
}

package spectrum

import "math"

// OKLab holds OKLab coordinates: L 0 … 1, a and b. Along a line of one hue angle
// blues stay blue to the eye as they lose chroma, which they do not in CIELAB.
type OKLab [3]float64

// The matrices of CSS Color Module Level 4, section 8 (after B. Ottosson, 2020): XYZ
// under DisplayWhite, Y 1, to cone-like signals, and their cube roots to OKLab.
var (
	toCones = [9]float64{
		0.8190224379967030, 0.3619062600528904, -0.1288737815209879,
		0.0329836539323885, 0.9292868615863434, 0.0361446663506424,
		0.0481771893596242, 0.2642395317527308, 0.6335478284694309,
	}
	toOKLab = [9]float64{
		0.2104542683093140, 0.7936177747023054, -0.0040720430116193,
		1.9779985324311684, -2.4285922420485799, 0.4505937096174110,
		0.0259040424655478, 0.7827717124575296, -0.8086757549230774,
	}
)

// RootsOfOKLab and XYZOfCones are the two steps of OKLab.XYZ: OKLab to the cube
// roots of the signals of three kinds of cones, and those signals to XYZ, Y 1.
var RootsOfOKLab, XYZOfCones = Inverse(toOKLab), Inverse(toCones)

// OKLab returns the OKLab coordinates of a colour under DisplayWhite.
func (x XYZ) OKLab() OKLab {
	c := apply(toCones, x)
	for i, v := range c {
		c[i] = math.Cbrt(v / 100)
	}
	return apply(toOKLab, c)
}

// XYZ is the inverse of XYZ.OKLab.
func (o OKLab) XYZ() XYZ {
	c := apply(RootsOfOKLab, o)
	for i, v := range c {
		c[i] = 100 * v * v * v
	}
	return apply(XYZOfCones, c)
}

package picturetest

import (
	"math"

	"github.com/lucasb-eyer/go-colorful"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// What is known of a print beforehand, without any of the ways that lead to it.

// film is a straight film with a base, that of all plates here.
var film = tone.Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8}

// densityOf is what film makes of a light of the scene, 0 to 1 (tone.Film.Exposure
// undone).
func densityOf(light float64) float64 {
	veil := math.Pow(10, -(film.White-film.Black)/film.Gamma)
	return film.White + film.Gamma*math.Log10(light*(1-veil)+veil)
}

// Scene is a set of plates in register, side × side pixels, of a scene whose red, green
// and blue light is given.
func Scene(side int, light func(plate, x, y int) float64) (session.State, [3]*plane.Plane) {
	s := session.New()
	s.Registered, s.FoundKey = "auto", 1
	var planes [3]*plane.Plane
	for i := range planes {
		planes[i] = plane.New(side, side)
		s.Sources[i] = session.Source{File: filter.Filter(i).String() + ".tif", W: side, H: side, Film: film}
		s.Found[i] = session.Found{Matrix: affine.Identity, Confidence: 1}
		for j := range planes[i].Pix {
			planes[i].Pix[j] = density.Code(densityOf(light(i, j%side, j/side)))
		}
	}
	return s, planes
}

// Lightness is CIELAB's L* of a share of white (CIE 15:2018, section 8.2.1).
func Lightness(y float64) float64 {
	if y > 216.0/24389 {
		return 116*math.Cbrt(y) - 16
	}
	return 24389.0 / 27 * y
}

// OnDisplay is a CIELAB colour under D50 as sRGB shows it, in 255ths: by the matrix of
// Bradford's adaptation from D50 to D65 as B. Lindbloom publishes it, and a
// general-purpose library's sRGB.
func OnDisplay(l spectrum.Lab) [3]float64 {
	white := [3]float64{0.96422, 1, 0.82521}
	fy := (l[0] + 16) / 116
	var x [3]float64
	for i, f := range [3]float64{fy + l[1]/500, fy, fy - l[2]/200} {
		if f > 6.0/29 {
			x[i] = white[i] * f * f * f
		} else {
			x[i] = white[i] * 3 * 36 / 841 * (f - 4.0/29)
		}
	}
	c := colorful.Xyz(
		0.9555766*x[0]-0.0230393*x[1]+0.0631636*x[2],
		-0.0282895*x[0]+1.0099416*x[1]+0.0210077*x[2],
		0.0122982*x[0]-0.0204830*x[1]+1.3299098*x[2])
	return [3]float64{255 * c.R, 255 * c.G, 255 * c.B}
}

// OnPrint is where a grey of the scene, a share of its white, comes to lie on a print whose
// tissues hold their grey balance: its lightness falls evenly from the paper to the
// deepest grey, the paper's tint with the square of what is left of the way.
func OnPrint(light float64, paper, depth spectrum.Lab) spectrum.Lab {
	u := 1 - Lightness(light)/100
	left := (1 - u) * (1 - u)
	return spectrum.Lab{paper[0] + u*(depth[0]-paper[0]), depth[1] + left*(paper[1]-depth[1]), depth[2] + left*(paper[2]-depth[2])}
}

// Package picturetest holds the plates that tests of pictures share.
package picturetest

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// Patches is a set of three plates of one size: even patches of light through
// each filter, from a grey scale to full colours.
func Patches() (session.State, [3]*plane.Plane) {
	const n, side = 8, 20
	s := session.New()
	s.Registered, s.FoundKey = "auto", 1
	film := tone.Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8}
	var planes [3]*plane.Plane
	for i := range planes {
		planes[i] = plane.New(n*side, n*side)
		s.Sources[i] = session.Source{File: filter.Filter(i).String() + ".tif", W: n * side, H: n * side, Film: film}
		s.Found[i] = session.Found{Matrix: affine.Identity, Confidence: 1}
		for j := range planes[i].Pix {
			a, b := j%(n*side)/side, j/(n*side)/side
			light := float64(b) / (n - 1) // the first column is a grey scale
			if a > 0 {
				light *= 0.15 + 0.85*math.Pow(math.Sin(float64(a)+2.1*float64(i)), 2)
			}
			// the film's straight line over its own black
			veil := math.Pow(10, -(film.White-film.Black)/film.Gamma)
			d := film.White + film.Gamma*math.Log10(light*(1-veil)+veil)
			planes[i].Pix[j] = plate.FromDensity(d)
		}
	}
	return s, planes
}

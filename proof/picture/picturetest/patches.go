// Package picturetest holds the plates that tests of pictures share.
package picturetest

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/plane"
	"threeply/proof/session"
)

// Patches is a set of three plates of one size: even patches of light through
// each filter, from a grey scale to full colours.
func Patches() (session.State, [3]*plane.Plane) {
	const n, side = 8, 20
	s := session.New()
	s.Registered, s.FoundKey = "auto", 1
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
			planes[i].Pix[j] = density.Code(densityOf(light))
		}
	}
	return s, planes
}

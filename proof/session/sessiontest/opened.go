// Package sessiontest has sessions for tests.
package sessiontest

import (
	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/session"
)

// Opened is the session of three negatives that were found against the green one.
func Opened() session.State {
	s := session.New()
	for i, f := range filter.All {
		s.Sources[i] = session.Source{File: f.String() + ".tif", W: 1000 + i, H: 700}
		s.Sources[i].Film.Gamma = 0.8
		s.Sources[i].Film.Negative = true
		s.Sources[i].Film.White, s.Sources[i].Film.Black = 1.6, 0.3
	}
	s.Registered = "auto"
	s.Found[0] = session.Found{Matrix: affine.Compose(affine.Parts{DX: 4, DY: -3, Turn: 0.2, StretchX: 1.002, StretchY: 1.002}, 500, 350), Confidence: 0.9}
	s.Found[1].Confidence = 1
	s.Found[2] = session.Found{Matrix: affine.Translate(-2, 5), Confidence: 0.9}
	return s
}

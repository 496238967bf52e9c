//go:build js

package main

import "threeply/proof/affine"

// marking is how the three plates are looked at side by side while marks are
// pinned: each in its own pixels, turned as the key lies, about a place of its
// own.
type marking struct {
	zoom   float64          // device pixels a pixel of the key
	at     [3][2]float64    // by filter: the plate's pixel in the middle
	linear [3]affine.Matrix // by filter: key → plate without the shift
}

// markPanes are the three plates, red, green and blue.
func (s *sight) markPanes(one func(id, label string, show int) pane) []pane {
	var out []pane
	for f, name := range [3]string{"red", "green", "blue"} {
		p := one("plate-"+name, "The "+name+" plate", showPlate)
		p.plate, p.direct = 2-f, true
		linear := s.marking.linear[f]
		if linear.Det() == 0 {
			linear = affine.Identity
		}
		p.magnified = &magnified{s.marking.at[f][0], s.marking.at[f][1], s.marking.zoom, linear}
		out = append(out, p)
	}
	return out
}

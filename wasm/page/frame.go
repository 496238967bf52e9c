//go:build js

package main

import (
	"threeply/proof/picture"
	"threeply/proof/place"
)

// leastShare is the smallest part of the key's width and height that is taken
// for the picture within the borders; less is a mistake of the areas.
const leastShare = 0.4

// reframe finds what is shown: the picture that all three plates hold within
// their borders, or the whole key plate.
func (a *app) reframe() {
	w, h := a.Frame()
	all := [4]float64{-0.5, -0.5, float64(w) - 0.5, float64(h) - 0.5}
	f := all
	for i, s := range a.Sources {
		back, ok := place.Register(&a.State, i).Inverse()
		if a.whole || !ok || s.Area[2] <= s.Area[0] || s.Area[3] <= s.Area[1] {
			continue
		}
		in := picture.Within(back, s.Area)
		f = [4]float64{max(f[0], in[0]), max(f[1], in[1]), min(f[2], in[2]), min(f[3], in[3])}
	}
	if f[2]-f[0] < leastShare*float64(w) || f[3]-f[1] < leastShare*float64(h) {
		f = all
	}
	if f != a.frame {
		a.frame = f
		a.refit()
		a.hold()
	}
}

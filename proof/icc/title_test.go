package icc

import (
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Every built-in recipe has a name of its own that seven bits hold.
func TestTitle(t *testing.T) {
	seen := map[string]bool{}
	count := 0
	for _, p := range pigment.Palettes() {
		for _, paper := range stack.Papers() {
			for _, f := range stack.Finishes() {
				for _, l := range spectrum.Lights() {
					r := stack.DefaultRecipe(p)
					r.Paper, r.Surface = paper, f.Surface
					for _, limit := range []float64{1, 0.6} {
						name := Title(r, l, limit)
						if ascii(name) != name {
							t.Errorf("%q loses letters in a profile", name)
						}
						seen[name] = true
						count++
					}
				}
			}
		}
	}
	if len(seen) != count {
		t.Errorf("%d names of %d recipes", len(seen), count)
	}
}

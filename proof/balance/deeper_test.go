package balance

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/stack"
)

// Saunderson's K0 is added to whatever comes from inside (JOSA 32, 1942, 727): without it
// a black of the same amounts is darker by K0 itself, and the deepest neutral by that or a
// little more. What is told of the trade's blacks does not agree: three-colour blacks on
// gloss are given 1.8 to 2.2 (from memory), modern sets L* 15 to 26 (common practice),
// which is 1.72 at most. The modern sets here keep to the second; finely dispersed
// pigments and more of them take every set into the first.
func TestHowDeep(t *testing.T) {
	for _, p := range pigment.Palettes() {
		r := stack.DefaultRecipe(p)
		is := Neutral(r, d50(), DefaultLimit).Depth.VisualDensity
		d := HowDeep(r, d50(), DefaultLimit)
		t.Logf("%-10s %.2f, without veil %.2f, coats through %.2f, finer %.2f, more and finer %.2f", p.ID, is, d.NoVeil, d.Through, d.Finer, d.More)
		without := -math.Log10(math.Pow(10, -is) - r.Surface.K0)
		if !(d.NoVeil > without-0.005 && d.NoVeil < without+0.05) {
			t.Errorf("%s: %.3f without veil, %.3f by Saunderson's sum", p.ID, d.NoVeil, without)
		}
		if !(d.Through > is) || !(d.Finer > is-0.1) {
			t.Errorf("%s: %.3f, %+v", p.ID, is, d)
		}
		if !(d.More > 1.8 && d.More < 2.4) {
			t.Errorf("%s: more pigment, finer, gives %.2f", p.ID, d.More)
		}
	}
}

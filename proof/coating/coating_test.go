package coating

import (
	"math"
	"testing"
)

// The trade's own sums: 10 % gelatine and 5 % sugar at 0.4 mm wet are about 43 µm dry
// with the sugar and 30 without; 8 % gelatine alone is 24 µm, about 32 g/m² (derived;
// common practice for the recipes).
func TestCoatsOfTheTrade(t *testing.T) {
	for _, c := range []struct {
		recipe                Recipe
		coat, exposed, relief float64
	}{
		{Recipe{Gelatine: 10, Sugar: 5, Wet: 0.4}, 60, 44.4, 29.6},
		{Recipe{Gelatine: 8, Wet: 0.4}, 32, 23.7, 23.7},
		{Recipe{Pigment: 8, Gelatine: 8, Sugar: 3, Wet: 1}, 118, 87.4, 65.2},
	} {
		for name, v := range map[string][2]float64{"coat": {c.recipe.Coat(), c.coat}, "exposed": {c.recipe.Exposed(), c.exposed}, "relief": {c.recipe.Relief(), c.relief}} {
			if math.Abs(v[0]-v[1]) > 0.1 {
				t.Errorf("%+v: %s %.2f, want %.1f", c.recipe, name, v[0], v[1])
			}
		}
	}
	if (Recipe{}).Given() || !(Recipe{Gelatine: 8, Wet: 0.4}).Given() {
		t.Error("what a recipe is")
	}
}

// A sheet of A4 of 32 g/m² takes 2 g, and a mix whose drawdown at 0.2 mm reads 0.5 is at
// load 1 when it is coated at 0.4 mm.
func TestChecksOfACoat(t *testing.T) {
	r := Recipe{Gelatine: 8, Wet: 0.4}
	if got := r.Weighed(21 * 29.7); math.Abs(got-1.996) > 0.01 {
		t.Errorf("A4 weighs %.3f g", got)
	}
	if got := r.Load(0.5, 0.2); math.Abs(got-1) > 1e-12 {
		t.Errorf("load %g", got)
	}
}

package spread

import (
	"threeply/proof/pigment"
	"threeply/proof/stack"
)

// Cause is one unknown and what it does to a colour.
type Cause struct {
	What   string  // one of those of Of, such as CauseAmount
	Layer  string  // the printer, empty for paper and surface
	DeltaE float64 // nine of ten cases of it alone lie within this CIEDE2000
}

// loaded is a recipe with f times the pigment in every layer.
func loaded(r stack.Recipe, f float64) stack.Recipe {
	for _, p := range pigment.Printers() {
		t := r.Palette.Layer(p)
		t.Load *= f
		r.Palette = r.Palette.WithLayer(p, t)
	}
	return r
}

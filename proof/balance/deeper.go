package balance

import (
	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Deeper is the visual density of the deepest neutral with one thing of the recipe
// otherwise: what keeps its black from being deeper.
type Deeper struct {
	NoVeil  float64 `json:"noVeil"`  // a face from which no light reaches the eye
	Through float64 `json:"through"` // layers as thick as their coats
	Finer   float64 `json:"finer"`   // pigments that scatter a third
	More    float64 `json:"more"`    // a third more of them, which scatter a third
}

// finer is the share of its scattering that a pigment may lose by being dispersed as fine
// as it can be (from memory: a tenth to a third of an opaque grade's).
const finer = 1.0 / 3

// HowDeep finds them. limit is that of Neutral.
//
// More pigment alone does little: light that a layer sends back before it has crossed the
// yellow stays, and a neutral black can be no darker than its lightest third of the
// spectrum. With less of that light more pigment tells.
func HowDeep(r stack.Recipe, light spectrum.Light, limit float64) Deeper {
	density := func(r stack.Recipe, limit float64) float64 { return Neutral(r, light, limit).Depth.VisualDensity }
	clear := r
	clear.Surface.K0 = 0
	return Deeper{
		NoVeil: density(clear, limit), Through: density(r, cube.Max),
		Finer: density(dispersed(r, 1), limit), More: density(dispersed(r, 4.0/3), limit),
	}
}

// dispersed is a recipe of so many times the pigment, finer.
func dispersed(r stack.Recipe, load float64) stack.Recipe {
	for _, p := range pigment.Printers() {
		t := r.Palette.Layer(p)
		t.Load, t.Haze = t.Load*load, t.Haze*finer
		r.Palette = r.Palette.WithLayer(p, t)
	}
	return r
}

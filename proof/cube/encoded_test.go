package cube

import (
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/spectrum"
)

func asItIs(x spectrum.XYZ) spectrum.XYZ { return x }

// What a display program makes of the codes by tetrahedral interpolation, in
// encoded values, against the exact stack.
func TestEncodedAgainstExactStack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(27, 28))
	lights := spectrum.Lights()
	var off []float64
	for range 40 {
		r, light := anyRecipe(rnd), lights[rnd.IntN(len(lights))]
		c := New(r, light, 33)
		shown := &Cube{N: c.N, Max: c.Max, Lab: make([]float32, len(c.Lab)), White: c.White}
		for i, v := range c.EncodedIn(spectrum.SRGB, asItIs) {
			shown.Lab[i] = float32(EncodedSpan*float64(v)/65535 + EncodedMin)
		}
		fromDisplay := spectrum.Inverse(spectrum.ToLinearSRGB(light.White))
		layers := r.Layers()
		for range 50 {
			a := anyAmounts(rnd)
			var lin [3]float64
			for ch, v := range shown.At(a) {
				lin[ch] = spectrum.DecodeSRGB(v)
			}
			seen := spectrum.Transform(fromDisplay, lin).Lab(light.White)
			off = append(off, spectrum.DeltaE00(seen, light.Lab(layers.Reflectance(a))))
		}
	}
	slices.Sort(off)
	p99, worst := off[len(off)*99/100], off[len(off)-1]
	t.Logf("ΔE00 over %d: median %.3f, 99th percentile %.3f, largest %.3f", len(off), off[len(off)/2], p99, worst)
	if !(p99 <= 0.5 && worst <= 1.5) {
		t.Error("the encoded cube strays from the stack")
	}
}

func TestEncodedAsAnotherRoom(t *testing.T) {
	r, light := anyRecipe(rand.New(rand.NewPCG(29, 30))), spectrum.Lights()[0]
	c := New(r, light, 5)
	dark := c.EncodedIn(spectrum.SRGB, func(x spectrum.XYZ) spectrum.XYZ { return spectrum.XYZ{x[0] / 2, x[1] / 2, x[2] / 2} })
	for i, v := range c.EncodedIn(spectrum.SRGB, asItIs) {
		bright := spectrum.DecodeSRGB(EncodedSpan*float64(v)/65535 + EncodedMin)
		half := spectrum.DecodeSRGB(EncodedSpan*float64(dark[i])/65535 + EncodedMin)
		if d := bright/2 - half; !(d < 1e-4 && d > -1e-4) {
			t.Fatalf("code %d: %v of %v", i, half, bright)
		}
	}
}

package cube

import (
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/spectrum"
)

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
		for i, v := range c.Encoded() {
			shown.Lab[i] = float32(EncodedSpan*float64(v)/65535 + EncodedMin)
		}
		fromDisplay := inverse(spectrum.ToLinearSRGB(light.White))
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

func inverse(m [9]float64) [9]float64 {
	var out [9]float64
	det := m[0]*(m[4]*m[8]-m[5]*m[7]) - m[1]*(m[3]*m[8]-m[5]*m[6]) + m[2]*(m[3]*m[7]-m[4]*m[6])
	for i := range 3 {
		for j := range 3 {
			a, b, c, d := (j+1)%3, (j+2)%3, (i+1)%3, (i+2)%3
			out[3*i+j] = (m[3*a+c]*m[3*b+d] - m[3*a+d]*m[3*b+c]) / det
		}
	}
	return out
}

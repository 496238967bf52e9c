package cube

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// anyRecipe draws palettes with their loads and haze, orders and finishes.
func anyRecipe(rnd *rand.Rand) stack.Recipe {
	all := pigment.Palettes()
	p := all[rnd.IntN(len(all))]
	for _, pr := range pigment.Printers() {
		t := p.Layer(pr)
		t.Load = 0.7 + 0.6*rnd.Float64()
		t.Haze = 2 * rnd.Float64()
		p = p.WithLayer(pr, t)
	}
	r := stack.DefaultRecipe(p)
	r.Order = stack.Orders()[rnd.IntN(6)]
	r.Surface = stack.Finishes()[rnd.IntN(3)].Surface
	papers := stack.Papers()
	r.Paper = papers[rnd.IntN(len(papers))]
	return r
}

func anyAmounts(rnd *rand.Rand) [3]float64 {
	return [3]float64{Max * rnd.Float64(), Max * rnd.Float64(), Max * rnd.Float64()}
}

// The slow, obvious way: the exact stack at 5 nm.
func TestCubeAgainstExactStack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	lights := spectrum.Lights()
	var off []float64
	for range 40 {
		r, light := anyRecipe(rnd), lights[rnd.IntN(len(lights))]
		c := New(r, light, 33)
		layers := r.Layers()
		for range 50 {
			a := anyAmounts(rnd)
			off = append(off, spectrum.DeltaE00(c.At(a), light.Lab(layers.Reflectance(a))))
		}
	}
	slices.Sort(off)
	p99, worst := off[len(off)*99/100], off[len(off)-1]
	t.Logf("ΔE00 over %d: median %.3f, 99th percentile %.3f, largest %.3f", len(off), off[len(off)/2], p99, worst)
	if !(p99 <= 0.15 && worst <= 0.5) {
		t.Error("the cube strays from the stack")
	}
}

// On its nodes the cube has no error but that of the 10 nm sums.
func TestNodes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	worst := 0.0
	for range 20 {
		r, light := anyRecipe(rnd), spectrum.Lights()[0]
		c := New(r, light, 9)
		for range 40 {
			var a [3]float64
			for i := range a {
				a[i] = Thickness(float64(rnd.IntN(9)) / 8)
			}
			worst = max(worst, spectrum.DeltaE00(c.At(a), light.Lab(r.Reflectance(a))))
		}
	}
	t.Logf("largest ΔE00 at a node %.4f", worst)
	if !(worst < 0.1) {
		t.Error("nodes are off")
	}
}

func TestEncodedIsTheDisplayColour(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	light, _ := spectrum.LightByID("A")
	c := New(stack.DefaultRecipe(p), light, 5)
	codes := c.EncodedIn(spectrum.SRGB, asItIs)
	for i := 0; i < len(codes); i += 3 {
		lab := spectrum.Lab{float64(c.Lab[i]), float64(c.Lab[i+1]), float64(c.Lab[i+2])}
		for ch, lin := range spectrum.LinearSRGB(lab.XYZ(light.White), light.White) {
			v := 2*float64(codes[i+ch])/65535 - 0.5
			if !(math.Abs(v-spectrum.EncodeSRGB(lin)) <= 1.01/65535) {
				t.Fatalf("node %d channel %d: %v, want %v", i/3, ch, v, spectrum.EncodeSRGB(lin))
			}
		}
	}
}

func TestBeyondTheEnds(t *testing.T) {
	p, _ := pigment.PaletteByID("lemon")
	c := New(stack.DefaultRecipe(p), spectrum.Lights()[0], 5)
	if c.At([3]float64{-1, 0, 99}) != c.At([3]float64{0, 0, Max}) {
		t.Error("beyond the ends is not the end")
	}
	if c.At([3]float64{math.NaN(), math.Inf(1), math.Inf(-1)}) != c.At([3]float64{0, Max, 0}) {
		t.Error("what is no number is not nothing")
	}
}

func BenchmarkCube33(b *testing.B) {
	p, _ := pigment.PaletteByID("earth")
	r, light := stack.DefaultRecipe(p), spectrum.Lights()[0]
	for b.Loop() {
		New(r, light, 33)
	}
}

func BenchmarkEncoded33(b *testing.B) {
	p, _ := pigment.PaletteByID("earth")
	c := New(stack.DefaultRecipe(p), spectrum.Lights()[0], 33)
	for b.Loop() {
		c.EncodedIn(spectrum.SRGB, asItIs)
	}
}

func BenchmarkAt(b *testing.B) {
	p, _ := pigment.PaletteByID("earth")
	c := New(stack.DefaultRecipe(p), spectrum.Lights()[0], 33)
	for b.Loop() {
		c.At([3]float64{0.3, 1.1, 0.7})
	}
}

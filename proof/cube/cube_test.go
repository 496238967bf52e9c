package cube

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// anyRecipe draws tissues as the page lets them be made: of one to three
// pigments of the table, loads of 0.25 to 4 in equal ratios and haze of 0 to 4 as
// the sliders have them, in any order on any paper under any surface.
func anyRecipe(rnd *rand.Rand) stack.Recipe {
	var p pigment.Palette
	for _, pr := range pigment.Printers() {
		t := anyMix(rnd)
		t.Load = 0.25 * math.Pow(16, rnd.Float64())
		t.Haze = 4 * rnd.Float64()
		p = p.WithLayer(pr, t)
	}
	r := stack.DefaultRecipe(p)
	r.Order = stack.Orders()[rnd.IntN(6)]
	r.Surface = stack.Finishes()[rnd.IntN(3)].Surface
	papers := stack.Papers()
	r.Paper = papers[rnd.IntN(len(papers))]
	return r
}

func anyMix(rnd *rand.Rand) pigment.Tissue {
	all := pigment.Pigments()
	rnd.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	shares := make([]pigment.Share, 1+rnd.IntN(3))
	sum := 0.0
	for i := range shares {
		shares[i] = pigment.Share{CI: all[i].CI, Share: 0.05 + rnd.Float64()}
		sum += shares[i].Share
	}
	for i := range shares {
		shares[i].Share /= sum
	}
	return pigment.NewTissue(shares...)
}

// strays are the ΔE00 of many recipes, several amounts each, between the exact stack
// at 5 nm and the cube, and what a display program makes of its codes by
// tetrahedral interpolation, in encoded values.
func strays(rnd *rand.Rand, recipes, each int, amounts func() [3]float64) (off, shown []float64) {
	type draw struct {
		recipe  stack.Recipe
		light   spectrum.Light
		amounts [][3]float64
	}
	lights := spectrum.Lights()
	draws := make([]draw, recipes)
	for i := range draws {
		d := draw{recipe: anyRecipe(rnd), light: lights[rnd.IntN(len(lights))]}
		for range each {
			d.amounts = append(d.amounts, amounts())
		}
		draws[i] = d
	}
	off, shown = make([]float64, recipes*each), make([]float64, recipes*each)
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		wait.Go(func() {
			for i := worker; i < recipes; i += workers {
				d := draws[i]
				c := New(d.recipe, d.light, 33)
				codes := &Cube{N: c.N, Max: c.Max, Lab: make([]float32, len(c.Lab)), White: c.White}
				for k, v := range c.EncodedIn(spectrum.SRGB, asItIs) {
					codes.Lab[k] = float32(EncodedSpan*float64(v)/65535 + EncodedMin)
				}
				fromDisplay := spectrum.Inverse(spectrum.ToLinearSRGB(d.light.White))
				layers := d.recipe.Layers()
				for k, a := range d.amounts {
					want := d.light.Lab(layers.Reflectance(a))
					off[i*each+k] = spectrum.DeltaE00(c.At(a), want)
					var lin [3]float64
					for ch, v := range codes.At(a) {
						lin[ch] = spectrum.DecodeSRGB(v)
					}
					shown[i*each+k] = spectrum.DeltaE00(spectrum.Transform(fromDisplay, lin).Lab(d.light.White), want)
				}
			}
		})
	}
	wait.Wait()
	slices.Sort(off)
	slices.Sort(shown)
	return off, shown
}

// The slow, obvious way is the exact stack. The codes end at an encoded -0.5:
// greens of one strong pigment alone lie beyond it, far out of a display's reach.
func TestCubeAgainstExactStack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	upTo := func(most float64) func() [3]float64 {
		return func() [3]float64 { return [3]float64{most * rnd.Float64(), most * rnd.Float64(), most * rnd.Float64()} }
	}
	for _, c := range []struct {
		what               string
		recipes, each      int
		amounts            func() [3]float64
		shown99, shownMost float64 // of the codes; of the cube itself they are 0.15 and 0.5
	}{
		{"evenly over the thickness", 150, 40, upTo(Max), 0.5, 1.5},
		{"light tones", 50, 96, upTo(0.1), 0.5, 1.5},
		{"the lightest tones", 50, 96, upTo(0.03), 0.5, 1.5},
		{"evenly over the axes", 50, 96, func() [3]float64 {
			return [3]float64{Thickness(rnd.Float64()), Thickness(rnd.Float64()), Thickness(rnd.Float64())}
		}, 0.5, 1.5},
	} {
		off, shown := strays(rnd, c.recipes, c.each, c.amounts)
		last := len(off) - 1
		p99, worst, shown99, shownMost := off[last*99/100], off[last], shown[last*99/100], shown[last]
		t.Logf("amounts %s, ΔE00 over %d of %d recipes: cube 99th percentile %.3f, largest %.3f; its codes %.3f, %.3f", c.what, len(off), c.recipes, p99, worst, shown99, shownMost)
		if !(p99 <= 0.15 && worst <= 0.5) {
			t.Errorf("amounts %s: the cube strays from the stack", c.what)
		}
		if !(shown99 <= c.shown99 && shownMost <= c.shownMost) {
			t.Errorf("amounts %s: its codes stray from the stack", c.what)
		}
	}
}

func TestThicknessIsTheInverseOfCoordinate(t *testing.T) {
	for u := 0.0; u <= 1; u += 0.01 {
		if got := Coordinate(Thickness(u)); !(math.Abs(got-u) < 1e-12) {
			t.Errorf("%g comes back as %g", u, got)
		}
	}
	if Thickness(1) != Max || Thickness(0) != 0 {
		t.Error("the ends are not nothing and the whole coat")
	}
}

// On its nodes the cube has no error but that of the 10 nm sums.
func TestNodes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	worst := 0.0
	for n := range 20 {
		r, light := anyRecipe(rnd), spectrum.Lights()[0]
		if n%4 == 3 { // light on slanting ways
			r.Palette.Measured = &pigment.Measurement{Angular: true}
		}
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

// Of gives the same cube as New where the function is that of a recipe.
func TestOfAnyFunction(t *testing.T) {
	p, _ := pigment.PaletteByID("earth")
	r, light := stack.DefaultRecipe(p), spectrum.Lights()[0]
	l := r.Layers()
	made, want := Of(func(t [3]float64) spectrum.Lab { return light.Lab(l.Reflectance(t)) }, light.White, 5), New(r, light, 5)
	for i, v := range made.Lab {
		if math.Abs(float64(v-want.Lab[i])) > 0.05 {
			t.Fatalf("value %d is %.3f, want %.3f", i, v, want.Lab[i])
		}
	}
}

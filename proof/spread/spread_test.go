package spread

import (
	"math"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// clear is a palette whose tissues do not scatter, on a flat paper without a surface: the
// light goes down and up through every layer and comes out as
//
//	R = R_paper exp(-2 Σ K_i x_i)
//
// (Lambert and Beer).
func clear(t *testing.T) stack.Recipe {
	t.Helper()
	p, ok := pigment.PaletteByID("arylide")
	if !ok {
		t.Fatal("no such palette")
	}
	p.Yellow.Haze, p.Magenta.Haze, p.Cyan.Haze = 0, 0, 0
	r := stack.DefaultRecipe(p)
	r.Surface = stack.Surface{}
	return r
}

// Without scattering what a spread does is known in closed form, colour by colour.
func TestSpreadOfClearLayers(t *testing.T) {
	light := spectrum.Lights()[0]
	r, x := clear(t), [3]float64{0.3, 0.5, 0.4}
	var k [3]spectrum.Curve
	for _, p := range pigment.Printers() {
		k[p], _ = r.Palette.Layer(p).KS()
	}
	look := func(times [3]float64) spectrum.Lab { // each layer's K·x so many times what it is
		out := r.Paper.R
		for i := range out {
			for p := range k {
				out[i] *= math.Exp(-2 * k[p][i] * x[p] * times[p])
			}
		}
		return light.Lab(out)
	}
	likely := look([3]float64{1, 1, 1})
	farther := func(of pigment.Printer, spread float64) float64 {
		worst := 0.0
		for _, f := range []float64{1 - spread, 1 + spread} {
			times := [3]float64{1, 1, 1}
			times[of] = f
			worst = max(worst, spectrum.DeltaE00(likely, look(times)))
		}
		return worst
	}
	l := Limits{Load: 0.1, Thickness: 0.2}
	got := l.Of(r, light, x)
	near := func(what string, is, want spectrum.Lab) {
		t.Helper()
		if d := is.Distance(want); !(d < 1e-9) {
			t.Errorf("%s is %.4f, want %.4f", what, is, want)
		}
	}
	near("likely", got.Likely, likely)
	near("lighter", got.Lighter, look([3]float64{0.9 * 0.8, 0.9 * 0.8, 0.9 * 0.8}))
	near("heavier", got.Heavier, look([3]float64{1.1 * 1.2, 1.1 * 1.2, 1.1 * 1.2}))
	want := map[[2]string]float64{}
	squares := 0.0
	for _, p := range pigment.Printers() {
		want[[2]string{"load", p.String()}] = farther(p, l.Load)
		want[[2]string{"thickness", p.String()}] = farther(p, l.Thickness)
	}
	if len(got.Causes) != len(want) {
		t.Errorf("%d causes, want %d: %+v", len(got.Causes), len(want), got.Causes)
	}
	for i, c := range got.Causes {
		v, known := want[[2]string{c.What, c.Layer}]
		if !known || !(math.Abs(c.DeltaE-v) < 1e-9) {
			t.Errorf("%s of %s: ΔE00 %.4f, want %.4f", c.What, c.Layer, c.DeltaE, v)
		}
		if i > 0 && c.DeltaE > got.Causes[i-1].DeltaE {
			t.Error("the causes are out of order")
		}
		squares += v * v
	}
	if !(math.Abs(got.DeltaE-math.Sqrt(squares)) < 1e-9) {
		t.Errorf("ΔE00 %.4f in all, want %.4f", got.DeltaE, math.Sqrt(squares))
	}
}

// What haze and finish do to one layer, by formulas in another form than the code's: a
// film of scattering S and absorption K over a ground R_g has
//
//	R = (1 - R_g (a - b coth bSX)) / (a - R_g + b coth bSX),  a = 1 + K/S, b = √(a²-1)
//
// (P. Kubelka, JOSA 38, 1948, 448, equation 19, of memory), and a face without
// reflections but for a veil K0 shows K0 + (1-K0') R with the K1 and K2 of the
// recipe's finish (J. L. Saunderson, JOSA 32, 1942, 727).
func TestSpreadOfHazeAndFinish(t *testing.T) {
	light := spectrum.Lights()[0]
	p, _ := pigment.PaletteByID("arylide")
	r := stack.DefaultRecipe(p)
	r.Surface = stack.Satin.Surface
	x := [3]float64{0, 0.7, 0}
	k, s := p.Magenta.KS()
	look := func(haze float64, face stack.Surface) spectrum.Lab {
		var out spectrum.Curve
		for i, measured := range r.Paper.R {
			m := measured - face.K0
			ground := m / ((1-face.K1)*(1-face.K2) + face.K2*m)
			a := 1 + k[i]/(s[i]*haze)
			b := math.Sqrt(a*a - 1)
			coth := b / math.Tanh(b*s[i]*haze*x[1])
			body := (1 - ground*(a-coth)) / (a - ground + coth)
			out[i] = face.K0 + (1-face.K1)*(1-face.K2)*body/(1-face.K2*body)
		}
		return light.Lab(out)
	}
	likely := look(1, stack.Satin.Surface)
	got := Limits{Haze: 0.5, Finish: true}.Of(r, light, x)
	if d := got.Likely.Distance(likely); !(d < 1e-6) {
		t.Errorf("likely is %.4f, want %.4f", got.Likely, likely)
	}
	want := map[string]float64{
		"haze":    max(spectrum.DeltaE00(likely, look(0.5, stack.Satin.Surface)), spectrum.DeltaE00(likely, look(1.5, stack.Satin.Surface))),
		"surface": max(spectrum.DeltaE00(likely, look(1, stack.Gloss.Surface)), spectrum.DeltaE00(likely, look(1, stack.Matt.Surface))),
	}
	if len(got.Causes) != len(want) {
		t.Errorf("%+v, want %v", got.Causes, want)
	}
	for _, c := range got.Causes {
		if !(math.Abs(c.DeltaE-want[c.What]) < 1e-6) || want[c.What] < 0.02 {
			t.Errorf("%s: ΔE00 %.4f, want %.4f", c.What, c.DeltaE, want[c.What])
		}
	}
	// Gloss has one neighbour, and matt: what lies beyond them moves nothing.
	for _, face := range []stack.Surface{stack.Gloss.Surface, stack.Matt.Surface} {
		r.Surface = face
		alone := Limits{Finish: true}.Of(r, light, x)
		if d := spectrum.DeltaE00(look(1, face), likely); len(alone.Causes) != 1 || !(math.Abs(alone.DeltaE-d) < 1e-6) {
			t.Errorf("finish with K0 %g: %+v, want ΔE00 %.4f", face.K0, alone, d)
		}
	}
}

// In every palette less pigment in thinner layers is lighter, more in thicker ones darker.
func TestLighterIsLighter(t *testing.T) {
	light := spectrum.Lights()[0]
	for _, p := range pigment.Palettes() {
		r := stack.DefaultRecipe(p)
		s := balance.Neutral(r, light, balance.DefaultLimit)
		for _, u := range []float64{0.25, 0.5, 0.75} {
			o := Default.Of(r, light, s.Thickness(u))
			t.Logf("%-10s tone %.2f: ±%.1f, L* %.1f %.1f %.1f, first %s %s %.2f", p.ID, u, o.DeltaE,
				o.Lighter[0], o.Likely[0], o.Heavier[0], o.Causes[0].Layer, o.Causes[0].What, o.Causes[0].DeltaE)
			if !(o.Lighter[0] > o.Likely[0] && o.Likely[0] > o.Heavier[0]) {
				t.Errorf("%s at %g: lighter %v, likely %v, heavier %v", p.ID, u, o.Lighter, o.Likely, o.Heavier)
			}
		}
	}
}

// Haze moves nothing where there is no pigment, and no spread nothing at all.
func TestWhatMovesNothing(t *testing.T) {
	light := spectrum.Lights()[0]
	p, _ := pigment.PaletteByID("arylide")
	r := stack.DefaultRecipe(p)
	alone := Limits{Haze: 0.5}
	bare := alone.Of(r, light, [3]float64{})
	if bare.DeltaE != 0 || len(bare.Causes) != 0 {
		t.Errorf("haze moves bare paper: %+v", bare)
	}
	if none := (Limits{}).Of(r, light, [3]float64{1, 1, 1}); none.DeltaE != 0 || none.Lighter != none.Likely {
		t.Errorf("no spread, yet %+v", none)
	}
	if p2, _ := pigment.PaletteByID("arylide"); r.Palette.Cyan.Load != p2.Cyan.Load {
		t.Error("the caller's palette was changed")
	}
}

func TestLimitsCheck(t *testing.T) {
	if err := Default.Check(); err != nil {
		t.Error(err)
	}
	for _, l := range []Limits{{Load: -0.1}, {Thickness: 1}, {Haze: math.NaN()}} {
		if l.Check() == nil {
			t.Errorf("%+v passes", l)
		}
	}
}

func BenchmarkOf(b *testing.B) {
	p, _ := pigment.PaletteByID("earth")
	r, light := stack.DefaultRecipe(p), spectrum.Lights()[0]
	for b.Loop() {
		Default.Of(r, light, [3]float64{0.5, 0.4, 0.5})
	}
}

package gamut

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

var spaces = []spectrum.RGBSpace{spectrum.SRGB, spectrum.DisplayP3}

// polar is lightness, chroma and hue in degrees of OKLab.
func polar(x spectrum.XYZ) (l, c, h float64) {
	o := x.OKLab()
	return o[0], math.Hypot(o[1], o[2]), math.Atan2(o[2], o[1]) * 180 / math.Pi
}

func (g *Gamut) shown(x spectrum.XYZ) spectrum.XYZ {
	return spectrum.Transform(spectrum.Inverse(g.fromXYZ), g.Show(x))
}

// prints calls visit with colours of prints, as XYZ under the white of a display.
func prints(visit func(palette string, x spectrum.XYZ)) {
	light := spectrum.Lights()[0]
	adapt := spectrum.Adapt(light.White, spectrum.DisplayWhite)
	rnd := rand.New(rand.NewPCG(41, 42))
	for _, p := range pigment.Palettes() {
		c := cube.New(stack.DefaultRecipe(p), light, 17)
		for range 2000 {
			var u [3]float64
			for i := range u {
				u[i] = cube.Thickness(rnd.Float64())
			}
			visit(p.ID, spectrum.Transform(adapt, c.At(u).XYZ(light.White)))
		}
	}
}

// What the display has, but for the last 3 % of chroma, is shown as it is; of the
// rest hue and lightness stay (to 4° at most, in OKLab).
func TestShowKeepsHueAndLightness(t *testing.T) {
	for _, s := range spaces {
		g := Of(s)
		outside, n, turned, lighter := 0, 0, 0.0, 0.0
		prints(func(palette string, x spectrum.XYZ) {
			n++
			rgb := g.Show(x)
			for _, v := range rgb {
				if !(v >= 0 && v <= 1) {
					t.Fatalf("%s: %.3f is shown as %v", s.Name, x, rgb)
				}
			}
			l, c, h := polar(x)
			sl, sc, sh := polar(g.shown(x))
			plain, well := spectrum.Transform(s.FromXYZ(spectrum.DisplayWhite), x), true
			for _, v := range plain {
				well = well && v > 0.05 && v < 0.95
			}
			for ch, v := range plain { // the way by the space's own matrix alone
				if well && !(math.Abs(rgb[ch]-v) < 1e-9) {
					t.Errorf("%s: %.3f is shown as %.4f, not as %.4f", s.Name, x, rgb, plain)
				}
			}
			if !g.Holds(x) {
				outside++
			} else if miss := spectrum.DeltaE00(x.Lab(spectrum.DisplayWhite), g.shown(x).Lab(spectrum.DisplayWhite)); miss > 1 {
				t.Errorf("%s has %.3f, yet shows it ΔE00 %.2f off", s.Name, x, miss)
			}
			if sc > 0.02 {
				turned = max(turned, math.Abs(math.Remainder(sh-h, 360)))
			}
			lighter = max(lighter, math.Abs(sl-l))
			if sc > c+1e-9 {
				t.Errorf("%s: %.3f gains chroma", s.Name, x)
			}
		})
		t.Logf("%s: %.1f %% of %d colours lie outside; hue turns by at most %.3f°, lightness moves by %.5f", s.Name, 100*float64(outside)/float64(n), n, turned, lighter)
		if !(turned < 4 && lighter < 0.005) {
			t.Errorf("%s: hue turns by %.2f°, lightness moves by %.4f", s.Name, turned, lighter)
		}
		if outside == 0 {
			t.Errorf("%s has all colours: nothing was tried", s.Name)
		}
	}
}

// On the way out chroma never falls back and never jumps, at the knee and at the
// boundary neither: the step of what is shown changes little from one to the next.
func TestShowIsSmooth(t *testing.T) {
	g := Of(spectrum.SRGB)
	for hue := 0.0; hue < 360; hue += 7 {
		for _, l := range []float64{0.25, 0.5, 0.75, 0.95} {
			const step = 0.0005
			last, lastStep := 0.0, step
			for c := step; c < 0.4; c += step {
				sin, cos := math.Sincos(hue * math.Pi / 180)
				x := spectrum.OKLab{l, c * cos, c * sin}.XYZ()
				_, now, _ := polar(g.shown(x))
				by := now - last
				if by < -1e-5 || by > step+1e-5 {
					t.Fatalf("hue %g lightness %g chroma %.4f: shown chroma goes on by %.6f", hue, l, c, by)
				}
				// The knee takes 3 % of the chroma to bend; the least that the
				// display has anywhere here is about 0.02.
				if math.Abs(by-lastStep) > 0.6*step {
					t.Fatalf("hue %g lightness %g chroma %.4f: the step of chroma goes from %.6f to %.6f", hue, l, c, lastStep, by)
				}
				last, lastStep = now, by
			}
		}
	}
}

// A full coat of phthalo blue clipped channel by channel is shown 21° bluer in
// CIELAB, as blue as Prussian blue. Shown at its hue in OKLab it stays a cyan: in
// CIELAB, whose lines of one hue are other ones, it lies on the green side of what
// it is and far from Prussian blue.
func TestPhthaloBlueKeepsItsHue(t *testing.T) {
	light := spectrum.Lights()[0]
	p, _ := pigment.PaletteByID("arylide")
	p.Cyan.Load = 1
	x := spectrum.Transform(spectrum.Adapt(light.White, spectrum.DisplayWhite), light.XYZ(stack.DefaultRecipe(p).Reflectance([3]float64{0, 0, 1})))
	hue := func(x spectrum.XYZ) float64 {
		l := x.Lab(spectrum.DisplayWhite)
		return math.Atan2(l[2], l[1]) * 180 / math.Pi
	}
	prussian, _ := pigment.PaletteByID("handbook")
	dark := spectrum.Transform(spectrum.Adapt(light.White, spectrum.DisplayWhite), light.XYZ(stack.DefaultRecipe(prussian).Reflectance([3]float64{0, 0, 0.35})))
	for _, s := range spaces {
		g := Of(s)
		clipped := spectrum.Transform(spectrum.Inverse(g.fromXYZ), inside(spectrum.Transform(g.fromXYZ, x)))
		_, _, want := polar(x)
		_, _, ok := polar(g.shown(x))
		t.Logf("%s: hue in OKLab %.1f° of %.1f°; in CIELAB %.1f° of %.1f°, clipped %.1f°, Prussian blue %.1f°; shown ΔE00 %.1f off",
			s.Name, ok, want, hue(g.shown(x)), hue(x), hue(clipped), hue(dark), g.Miss(x))
		if math.Abs(math.Remainder(ok-want, 360)) > 4 {
			t.Errorf("%s: turned by %.1f° in OKLab", s.Name, ok-want)
		}
		if by := math.Remainder(hue(g.shown(x))-hue(dark), 360); by > -10 {
			t.Errorf("%s: %.1f° from Prussian blue", s.Name, by)
		}
		if s == spectrum.SRGB && !(math.Remainder(hue(clipped)-hue(x), 360) > 15 && g.Miss(x) > 1) {
			t.Errorf("clipping turns it by %.1f° only, miss %.1f", hue(clipped)-hue(x), g.Miss(x))
		}
	}
}

func TestShowOfNoColour(t *testing.T) {
	g := Of(spectrum.SRGB)
	for _, c := range []struct {
		x    spectrum.XYZ
		want [3]float64
	}{
		{spectrum.XYZ{}, [3]float64{}},
		{spectrum.XYZ{-1, -2, -3}, [3]float64{}},
		{spectrum.XYZ{math.NaN(), 1, 1}, [3]float64{}},
		{spectrum.XYZ{200, 200, 200}, [3]float64{1, 1, 1}},
		{spectrum.DisplayWhite, [3]float64{1, 1, 1}},
	} {
		got := g.Show(c.x)
		for i := range got {
			if !(math.Abs(got[i]-c.want[i]) < 1e-6) {
				t.Errorf("%v is shown as %v, want %v", c.x, got, c.want)
			}
		}
	}
}

func BenchmarkShow(b *testing.B) {
	g := Of(spectrum.SRGB)
	for b.Loop() {
		g.Show(spectrum.XYZ{20, 25, 70})
	}
}

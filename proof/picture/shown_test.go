package picture

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/cube"
	"threeply/proof/gamut"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
)

// What the table gives between its nodes against the exact stack and what a display
// shows of it: one hue to 4° in OKLab, one colour to 1 CIEDE2000 for 99 of 100.
func TestTableShowsWhatTheGamutSays(t *testing.T) {
	rnd := rand.New(rand.NewPCG(43, 44))
	for _, space := range []spectrum.RGBSpace{spectrum.SRGB, spectrum.DisplayP3} {
		shown, back := gamut.Of(space), space.ToXYZ()
		var off []float64
		turned := 0.0
		for _, palette := range pigment.Palettes() {
			s, _ := picturetest.Patches()
			s.Palette = palette.ID
			p, err := Prepare(&s)
			if err != nil {
				t.Fatal(err)
			}
			p = p.In(space)
			table := &cube.Cube{N: p.Cube.N, Max: cube.Max, Lab: p.decoded, White: p.Light.White}
			adapt, layers := spectrum.Adapt(p.Light.White, spectrum.DisplayWhite), p.Recipe.Layers()
			for range 400 {
				var a [3]float64
				for i := range a {
					a[i] = cube.Thickness(rnd.Float64())
				}
				exact := spectrum.Transform(adapt, p.Light.XYZ(layers.Reflectance(a)))
				var got [3]float64
				for ch, v := range table.At(a) {
					got[ch] = spectrum.DecodeSRGB(min(max(v, 0), 1))
				}
				shows := [2]spectrum.XYZ{spectrum.Transform(back, got), spectrum.Transform(back, shown.Show(exact))}
				o1, o2 := shows[0].OKLab(), shows[1].OKLab()
				off = append(off, spectrum.DeltaE00(shows[0].Lab(spectrum.DisplayWhite), shows[1].Lab(spectrum.DisplayWhite)))
				if math.Hypot(o2[1], o2[2]) > 0.05 {
					by := math.Atan2(o1[2], o1[1]) - math.Atan2(o2[2], o2[1])
					turned = max(turned, math.Abs(math.Remainder(by, 2*math.Pi))*180/math.Pi)
				}
			}
		}
		slices.Sort(off)
		p99, worst := off[len(off)*99/100], off[len(off)-1]
		t.Logf("%s: ΔE00 99th percentile %.2f, largest %.2f; hue turned by at most %.2f°", space.Name, p99, worst, turned)
		if !(p99 < 1 && worst < 2.5 && turned < 4) {
			t.Errorf("%s: the table shows other colours", space.Name)
		}
	}
}

// A light grey is on every display; whole coats of the modern cyan are on none.
func TestOutsideDisplay(t *testing.T) {
	s, _ := picturetest.Patches()
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	grey, cyan := p.Cube.At(p.Scale.Thickness(0.3)), p.Cube.At([3]float64{0, 0, 1})
	if a, b := p.OutsideDisplay(spectrum.SRGB, grey), p.OutsideDisplay(spectrum.DisplayP3, grey); a != 0 || b != 0 {
		t.Errorf("a grey is %.2f and %.2f outside", a, b)
	}
	if a, b := p.OutsideDisplay(spectrum.SRGB, cyan), p.OutsideDisplay(spectrum.DisplayP3, cyan); !(a > b && b > 1) {
		t.Errorf("cyan is %.2f outside sRGB and %.2f outside Display P3", a, b)
	}
}

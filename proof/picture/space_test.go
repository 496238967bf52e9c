package picture

import (
	"image"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/picture/picturetest"
	"threeply/proof/render"
	"threeply/proof/spectrum"
)

// The table in Display P3 against the way from XYZ by the space's own matrix, at
// every node: within the coding's own step where a display can show it.
func TestTableInDisplayP3(t *testing.T) {
	s, _ := picturetest.Patches()
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	wide := p.In(spectrum.DisplayP3)
	m, table := spectrum.DisplayP3.FromXYZ(p.Light.White), wide.TrueTable()
	worst, beyond := 0.0, 0
	for i := 0; i < len(table); i += 3 {
		lab := spectrum.Lab{float64(p.Cube.Lab[i]), float64(p.Cube.Lab[i+1]), float64(p.Cube.Lab[i+2])}
		narrow := spectrum.LinearSRGB(lab.XYZ(p.Light.White), p.Light.White)
		for ch, v := range spectrum.Transform(m, lab.XYZ(p.Light.White)) {
			want := min(max(spectrum.EncodeSRGB(v), cube.EncodedMin), cube.EncodedMin+cube.EncodedSpan)
			got := cube.EncodedMin + cube.EncodedSpan*float64(table[i+ch])/65535
			worst = max(worst, math.Abs(got-want))
			if v >= 0 && v <= 1 && (narrow[ch] < -0.002 || narrow[ch] > 1.002) {
				beyond++
			}
		}
	}
	t.Logf("largest error %.5f; %d values lie in Display P3 and beyond sRGB", worst, beyond)
	if !(worst < 2e-5) || beyond < 50 {
		t.Errorf("largest error %.5f, %d values beyond sRGB", worst, beyond)
	}
	if !slices.Equal(p.In(spectrum.SRGB).Table, p.Table) {
		t.Error("the table in sRGB is another than the one in sRGB")
	}
	for _, code := range wide.Table {
		if v := cube.EncodedMin + cube.EncodedSpan*float64(code)/65535; !(v > -2e-5 && v < 1+2e-5) {
			t.Fatalf("%.4f is shown, which no display can", v)
		}
	}
}

// What both spaces hold is one colour in both, wherever the picture is looked up.
func TestPictureIsTheSameInDisplayP3(t *testing.T) {
	s, planes := picturetest.Patches()
	for _, kind := range []render.Kind{render.Print, render.Reference} {
		printing, err := Prepare(&s)
		if err != nil {
			t.Fatal(err)
		}
		drawn := func(p *Printing) *image.NRGBA {
			w, h := s.Frame()
			return Assemble(&s, p, p.Curves(&s), planes, affine.Identity, 0).Image(kind, w, h, nil)
		}
		a, b := drawn(printing), drawn(printing.In(spectrum.DisplayP3))
		m := between(spectrum.DisplayP3, spectrum.SRGB)
		worst, differ := 0.0, 0
		for i := 0; i < len(a.Pix); i += 4 {
			var linear [3]float64
			inside := true
			for ch := range linear {
				linear[ch] = spectrum.DecodeSRGB(float64(b.Pix[i+ch]) / 255)
				inside = inside && a.Pix[i+ch] > 0 && a.Pix[i+ch] < 255
			}
			if !inside {
				continue
			}
			if a.Pix[i] != b.Pix[i] {
				differ++
			}
			for ch, v := range spectrum.Transform(m, linear) {
				worst = max(worst, math.Abs(255*spectrum.EncodeSRGB(v)-float64(a.Pix[i+ch])))
			}
		}
		t.Logf("kind %d: largest distance %.2f of 255, %d pixels have other reds", kind, worst, differ)
		if !(worst <= 2) || differ == 0 {
			t.Errorf("kind %d: largest distance %.2f of 255, %d pixels have other reds", kind, worst, differ)
		}
	}
}

func TestConverterAgainstTheFormula(t *testing.T) {
	m := between(spectrum.SRGB, spectrum.DisplayP3)
	convert := converter(m)
	rnd := rand.New(rand.NewPCG(3, 4))
	worst := 0.0
	for range 20000 {
		c := render.RGB{rnd.Float32(), rnd.Float32(), rnd.Float32()}
		var linear [3]float64
		for i, v := range c {
			linear[i] = spectrum.DecodeSRGB(float64(v))
		}
		got := convert(c)
		for i, v := range spectrum.Transform(m, linear) {
			worst = max(worst, math.Abs(float64(got[i])-min(max(spectrum.EncodeSRGB(v), 0), 1)))
		}
	}
	t.Logf("largest error %.2g", worst)
	if !(worst < 1.0/65535) {
		t.Errorf("largest error %.2g", worst)
	}
	if white := convert(render.RGB{1, 1, 1}); white != (render.RGB{1, 1, 1}) && !(math.Abs(float64(white[0]+white[1]+white[2])-3) < 1e-4) {
		t.Errorf("white becomes %v", white)
	}
}

package plate

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// A negative in a rebate of bare film, in the scanner's black holder: base and
// fog are read there, not in the picture, whose shadows are denser.
func TestBaseFromTheRebate(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	negative := mapped(filmed(sceneCodes(700, 560, 1), 0.75, 0.25, 1.9), func(d float64) float64 { return max(d, 0.4) })
	for name, c := range map[string]struct {
		left, top, right, bottom int
		rebate, want             float64
	}{
		"four sides":           {40, 40, 50, 60, 0.27, 0.27},
		"two sides":            {0, 60, 0, 60, 0.31, 0.31},
		"bare light all round": {40, 40, 40, 40, 0.005, 0},
		"black all round":      {40, 40, 40, 40, 3.4, 0},
		"none":                 {0, 0, 0, 0, 0, 0},
	} {
		p := framed(negative, c.left, c.top, c.right, c.bottom, c.rebate)
		for i, code := range p.Pix {
			p.Pix[i] = density.Code(density.Of(code) + 0.006*rnd.NormFloat64())
		}
		var s Source
		s.Measure(p)
		if math.Abs(s.Rebate-c.want) > 0.01 {
			t.Errorf("%s: %.3f, want %.3f", name, s.Rebate, c.want)
		}
		d, from := s.BaseFog()
		if from != (c.want > 0) || !from && d != s.Base {
			t.Errorf("%s: base and fog %.3f, from the rebate: %v; thinnest %.3f", name, d, from, s.Base)
		}
	}
}

// eightBits is a plate of 8-bit sRGB codes in a black frame.
func eightBits(seed uint64, levels float64) image.Image {
	p := framed(sceneCodes(300, 240, seed), 20, 20, 20, 20, 3.5)
	img := image.NewGray(image.Rect(0, 0, p.W, p.H))
	for i, code := range p.Pix {
		v := math.Pow(math.Pow(10, -density.Of(code)), 1/2.2)
		img.SetGray(i%p.W, i/p.W, color.Gray{Y: uint8(math.Round(math.Round(v*levels) / levels * 255))})
	}
	return img
}

func TestOpenLooksAtTheCodesOfThePicture(t *testing.T) {
	set, err := Open([]File{
		{Name: "r.png", Data: encoded(t, eightBits(1, 255))},
		{Name: "g.png", Data: encoded(t, eightBits(2, 15))},
		{Name: "b.png", Data: pngOf(t, negativeOf(3))},
	}, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, g, b := set.Sources[0].Scan, set.Sources[1].Scan, set.Sources[2].Scan
	if r.Codes.Levels < 60 || r.Codes.Levels > 256 || r.Kind != "PNG" || r.Known != "assumed" || r.Step != 0 {
		t.Errorf("8 bits: %+v", r)
	}
	if g.Codes.Levels > 16 {
		t.Errorf("16 greys: %+v", g)
	}
	if b.Codes.Levels < 100 || b.Codes.Highest > 0.7 { // the thinnest has density 0.25
		t.Errorf("16 bits: %+v", b)
	}
	tall := plane.New(340, 3*280)
	for i := range 3 {
		copy(tall.Pix[i*340*280:], negativeOf(uint64(i)+1).Pix)
	}
	set, err = Open([]File{{Name: "tall.png", Data: pngOf(t, tall)}}, Options{Layout: Tall}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if set.Sources[2].Scan.Codes != b.Codes {
		t.Errorf("the third exposure of a tall file: %+v, on its own %+v", set.Sources[2].Scan.Codes, b.Codes)
	}
}

// The same codes read as linear and as gamma 2.2: densities as 1 to 2.2, by
// D = -log10 v^2.2. One file of a set can be told apart from the others.
func TestEncodingOfOneFile(t *testing.T) {
	file := func(name string, seed uint64, encoding string) File {
		return File{Name: name, Data: pngOf(t, mapped(negativeOf(seed), func(d float64) float64 { return d / 2 })), Encoding: encoding}
	}
	if _, err := Open([]File{file("r.png", 1, "gamma 2.2"), file("g.png", 1, ""), file("b.png", 2, "")}, Options{Encoding: "linear"}, nil); err == nil {
		t.Fatal("the same scan twice was taken")
	}
	set, err := Open([]File{file("r.png", 1, "gamma 2.2"), file("g.png", 3, ""), file("b.png", 2, "")}, Options{Encoding: "linear"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Open([]File{file("r.png", 1, ""), file("g.png", 3, ""), file("b.png", 2, "")}, Options{Encoding: "linear"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := set.Sources[0], again.Sources[0]; math.Abs(a.Max-2.2*b.Max) > 0.01 || math.Abs(a.Base-2.2*b.Base) > 0.01 || a.Encoding != "gamma 2.2, as chosen" || b.Encoding != "linear, as chosen" {
		t.Errorf("gamma 2.2: %.3f to %.3f (%s); linear: %.3f to %.3f (%s)", a.Base, a.Max, a.Encoding, b.Base, b.Max, b.Encoding)
	}
	if a, b := set.Sources[1], again.Sources[1]; !reflect.DeepEqual(a, b) {
		t.Errorf("the other file changed: %+v and %+v", a, b)
	}
}

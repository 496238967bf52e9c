package registration

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/intake"
	"threeply/proof/place"
	"threeply/proof/plate"
	"threeply/proof/verdict"
)

// scanned is a scan of w × h pixels as a file: light(x, y) is the linear transmittance of
// the plate, 0..1, in steps of 1/levels.
func scanned(t *testing.T, name string, w, h, levels int, light func(x, y float64) float64) plate.File {
	t.Helper()
	rnd := rand.New(rand.NewPCG(uint64(len(name)), 3))
	img := image.NewGray16(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := math.Pow(min(max(light(float64(x), float64(y))*(1+0.02*rnd.NormFloat64()), 0), 1), 1/2.2)
			img.SetGray16(x, y, color.Gray16{Y: uint16(65535 * math.Round(v*float64(levels)) / float64(levels))})
		}
	}
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.NoCompression}).Encode(&out, img); err != nil {
		t.Fatal(err)
	}
	return plate.File{Name: name + ".png", Data: bytes.NewReader(out.Bytes())}
}

// Whatever is wrong with a scan, no set is called in register that is not: where the
// verdict says so, the maps lie within what it says of the ones that the plates were made
// with, over the whole picture. Half a plate, a sky and another picture are never called
// so.
func TestBadScansAreNeverFalselyInRegister(t *testing.T) {
	t.Parallel()
	const w, h = 360, 280
	scene := discs()
	at := func(x, y, tone float64) float64 { return math.Pow(10, -scene(2.5*x, 2.5*y, tone)) }
	maps := [3]affine.Matrix{
		affine.Compose(affine.Parts{DX: 4.3, DY: -2.6, Turn: 0.3, StretchX: 1.002, StretchY: 1.003}, w/2, h/2),
		affine.Identity,
		affine.Compose(affine.Parts{DX: -3.1, DY: 5.2, Turn: -0.2, StretchX: 0.998, StretchY: 1}, w/2, h/2),
	}
	names, tones := [3]string{"red", "green", "blue"}, [3]float64{1, 0.8, 0.6}
	through := func(m affine.Matrix, light func(x, y float64) float64) func(x, y float64) float64 {
		back, _ := m.Inverse()
		return func(x, y float64) float64 { return light(back.Apply(x, y)) }
	}
	plain := func(i int) func(x, y float64) float64 {
		return through(maps[i], func(x, y float64) float64 { return at(x, y, tones[i]) })
	}
	blurred := func(light func(x, y float64) float64, r float64) func(x, y float64) float64 {
		return func(x, y float64) float64 {
			sum := 0.0
			for _, o := range [9][2]float64{{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}, {0.7, 0.7}, {-0.7, 0.7}, {0.7, -0.7}, {-0.7, -0.7}} {
				sum += light(x+r*o[0], y+r*o[1]) / 9
			}
			return sum
		}
	}
	// a holder covers the same part of every scan, with the light beside it
	held := func(light func(x, y float64) float64) func(x, y float64) float64 {
		return func(x, y float64) float64 {
			switch {
			case x < 12 || y < 9 || x > w-14:
				return 0.97
			case x < 48 || y < 40 || x > w-52 || y > h-44:
				return 0.002
			}
			return light(x, y)
		}
	}
	sky := func(tone float64) func(x, y float64) float64 {
		return func(x, y float64) float64 { return math.Pow(10, -tone*(0.6+0.5*y/h+0.1*x/w)) }
	}
	var good [3]plate.File
	for i := range good {
		good[i] = scanned(t, names[i], w, h, 65535, plain(i))
	}
	file := func(i int) plate.File { return good[i] }
	with := func(i int, f plate.File) []plate.File {
		out := []plate.File{file(0), file(1), file(2)}
		out[i] = f
		return out
	}
	each := func(make func(i int) plate.File) []plate.File { return []plate.File{make(0), make(1), make(2)} }
	for name, c := range map[string]struct {
		files []plate.File
		never bool          // in register
		scale affine.Matrix // of the red plate, after its map
	}{
		"three good ones":        {files: each(file)},
		"in a film holder":       {files: each(func(i int) plate.File { return scanned(t, names[i], w, h, 65535, held(plain(i))) })},
		"8 bits padded to 16":    {files: each(func(i int) plate.File { return scanned(t, names[i], w, h, 255, plain(i)) })},
		"16 greys":               {files: with(0, scanned(t, "red", w, h, 15, plain(0)))},
		"one plate blurred":      {files: with(0, scanned(t, "red", w, h, 65535, blurred(plain(0), 2.5)))},
		"one at half resolution": {files: with(0, scanned(t, "red", w/2, h/2, 65535, func(x, y float64) float64 { return blurred(plain(0), 0.7)(2*x+0.5, 2*y+0.5) })), scale: affine.Resized(0.5)},
		"half a plate":           {files: with(0, scanned(t, "red", w/2, h, 65535, plain(0))), never: true},
		"a sky":                  {files: each(func(i int) plate.File { return scanned(t, names[i], w, h, 65535, sky(tones[i])) }), never: true},
		"another picture":        {files: with(0, scanned(t, "red", w, h, 65535, func(x, y float64) float64 { return at(h-y, 0.7*x, 0.9) })), never: true},
	} {
		set, err := plate.Open(c.files, plate.Options{}, nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		s := intake.Begin(set)
		r, err := Register(context.Background(), &s, set.Density, nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		in := r.On(&s)
		v := verdict.OfScan(&in)
		var off []float64 // between any two plates, over the picture
		for y := 60.0; y < h-60; y += 10 {
			for x := 60.0; x < w-60; x += 10 {
				var lies [3][2]float64
				for _, f := range filter.All {
					m := maps[f]
					if f == filter.Red && c.scale != (affine.Matrix{}) {
						m = c.scale.Mul(m)
					}
					px, py := m.Apply(x, y)
					lies[f][0], lies[f][1], _ = place.OnKey(&in, in.Assign[f], px, py)
				}
				for i := range 3 {
					a, b := lies[i], lies[(i+1)%3]
					off = append(off, math.Hypot(a[0]-b[0], a[1]-b[1]))
				}
			}
		}
		slices.Sort(off)
		is := off[len(off)*95/100]
		t.Logf("%s: %s; said %.2f px over %.0f %%, is %.2f", name, v.Sentence, v.P95, 100*v.Coverage, is)
		signed, _ := v.InRegister()
		if signed && (c.never || is > v.P95+0.05) {
			t.Errorf("%s: falsely in register: %s It is %.2f px", name, v.Sentence, is)
		}
		if name == "three good ones" && !signed {
			t.Errorf("%s: %s", name, v.Sentence)
		}
		if v.Sentence == "" {
			t.Errorf("%s: nothing is said", name)
		}
	}
}

package render

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

func plates(w, h int) [3]*plane.Plane {
	rnd := rand.New(rand.NewPCG(7, 8))
	var out [3]*plane.Plane
	for i := range out {
		out[i] = plane.New(w, h)
		for j := range out[i].Pix {
			x, y := j%w, j/w
			out[i].Pix[j] = uint16(14000 + 9000*math.Sin(float64(x+40*i)/17)*math.Cos(float64(y)/11) + 800*rnd.Float64())
		}
	}
	return out
}

// linearTable is a table whose colour is linear in the coordinates, so that
// any interpolation is exact: red falls with cyan, green with magenta, blue
// with yellow.
func linearTable(n int) []uint16 {
	t := make([]uint16, 3*n*n*n)
	for c := range n {
		for m := range n {
			for y := range n {
				for ch, i := range []int{c, m, y} {
					v := 1 - float64(i)/float64(n-1)
					t[3*((c*n+m)*n+y)+ch] = uint16(math.Round((v + 0.5) / 2 * 65535))
				}
			}
		}
	}
	return t
}

func picture(w, h int) *Picture {
	film := tone.Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8}
	p := &Picture{N: 17, Table: Decode(linearTable(17))}
	for i, pl := range plates(w, h) {
		way := Way{Matrix: affine.Compose(affine.Parts{DX: float64(i) - 0.7, DY: 0.4 * float64(i), Turn: 0.3 * float64(i), StretchX: 1, StretchY: 1}, float64(w)/2, float64(h)/2)}
		p.Layers[i] = Layer{
			Plane: pl, Laid: way, Scanned: way,
			Print: tone.TonesOf(film).Print(func(u float64) float64 { return 0.8 * u * u }), Reference: tone.ReferenceCurve(film),
		}
	}
	return p
}

// The slow, obvious way: bilinear in float64 from package plane, the formula of
// the film in place of its curve, the linear table's own formula.
func TestAtAgreesWithTheFormulas(t *testing.T) {
	p := picture(90, 70)
	film := tone.Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8}
	worst := 0.0
	for y := 5; y < 65; y += 3 {
		for x := 5; x < 85; x += 2 {
			ref, print := p.At(Reference, float64(x), float64(y)), p.At(Print, float64(x), float64(y))
			for i, l := range p.Layers {
				u, v := l.Laid.Matrix.Apply(float64(x), float64(y))
				h := film.Exposure(l.Plane.Bilinear(u, v) * 4 / 65535)
				worst = max(worst, math.Abs(float64(ref[2-i])-spectrum.EncodeSRGB(h)))
				u01 := tone.Depth01(h)
				worst = max(worst, math.Abs(float64(print[2-i])-(1-math.Pow(0.8*u01*u01, 0.4))))
			}
		}
	}
	t.Logf("largest distance %.2g", worst)
	if worst > 0.003 {
		t.Errorf("largest distance %g, want below 0.003", worst)
	}
}

// white allows for the table's 16 bits.
func white(c RGB) bool { return min(c[0], c[1], c[2]) > 0.9999 }

func TestOutsideAndHidden(t *testing.T) {
	p := picture(64, 48)
	if c := p.At(Print, -50, 10); !white(c) {
		t.Errorf("beyond the plates the print is %v, want bare paper", c)
	}
	if c := p.At(Reference, -50, 10); c != (RGB{}) {
		t.Errorf("beyond the plates the reference is %v, want no light", c)
	}
	for i := range p.Layers {
		p.Layers[i].Hidden = true
		if c := p.At(Print, 30, 20); c[2-i] < 0.9999 {
			t.Errorf("layer %d hidden still prints: %v", i, c)
		}
	}
}

func TestImageStops(t *testing.T) {
	p := picture(64, 480)
	if img := p.Image(Print, 64, 480, func(float64) bool { return false }); img != nil {
		t.Error("a stopped render still gives a picture")
	}
}

// The print follows where a layer is laid, the reference where the plate was
// scanned.
func TestLaidMovesThePrintAlone(t *testing.T) {
	p, q := picture(90, 70), picture(90, 70)
	q.Layers[2].Laid.Matrix = affine.Translate(7, 3).Mul(q.Layers[2].Laid.Matrix)
	moved := false
	for y := 5; y < 65; y += 3 {
		for x := 5; x < 75; x += 2 {
			if a, b := p.At(Reference, float64(x), float64(y)), q.At(Reference, float64(x), float64(y)); a != b {
				t.Fatalf("%d,%d: the reference is %v, was %v", x, y, b, a)
			}
			if a, b := p.At(Print, float64(x), float64(y)), q.At(Print, float64(x), float64(y)); math.Abs(float64(a[0]-b[0])) > 0.05 {
				moved = true
			}
		}
	}
	if !moved {
		t.Error("the print does not follow")
	}
}

// Places beyond all planes, and such as are no numbers, show nothing.
func TestPlacesThatCannotBe(t *testing.T) {
	p := plane.New(4, 3)
	for i := range p.Pix {
		p.Pix[i] = 100
	}
	inf := float64(math.Inf(1))
	for _, v := range []float64{-2, 5, 1e30, -1e30, inf, -inf, float64(math.NaN())} {
		for _, at := range [][2]float64{{v, 1}, {1, v}, {v, v}} {
			if code, cover := sample(p, at[0], at[1]); code != 0 || cover != 0 {
				t.Errorf("at %v: code %g, covered by %g", at, code, cover)
			}
		}
	}
}

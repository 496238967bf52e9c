package resample

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// noise is a plane of codes that have nothing to do with one another.
func noise(w, h int) *plane.Plane {
	rnd := rand.New(rand.NewPCG(3, 3))
	p := plane.New(w, h)
	for i := range p.Pix {
		p.Pix[i] = uint16(rnd.Uint32())
	}
	return p
}

// drawn is a plane as a map from the picture's pixels to its own shows it, fill where it
// does not reach.
func drawn(p *plane.Plane, m affine.Matrix, w, h int, fill uint16) *plane.Plane {
	out, s := plane.New(w, h), NewSampler(p, 1)
	for y := range h {
		for x, row := 0, out.Row(y); x < w; x++ {
			row[x] = fill
			if code, ok := s.At(m.Apply(float64(x), float64(y))); ok {
				row[x] = code
			}
		}
	}
	return out
}

func TestResampleByWholePixelsIsExact(t *testing.T) {
	p := noise(60, 50)
	if got := drawn(p, affine.Identity, 60, 50, 7); !slices.Equal(got.Pix, p.Pix) {
		t.Error("the identity changes codes")
	}
	got := drawn(p, affine.Translate(4, -3), 60, 50, 7)
	for y := range 50 {
		for x := range 60 {
			want := uint16(7)
			if x+4 < 60 && y-3 >= 0 {
				want = p.At(x+4, y-3)
			}
			if got.At(x, y) != want {
				t.Fatalf("at %d, %d: %d, want %d", x, y, got.At(x, y), want)
			}
		}
	}
}

// TestResampleKeepsWaves shifts waves of five pixels and longer by fractions,
// where the truth is a formula.
func TestResampleKeepsWaves(t *testing.T) {
	wave := func(x, y float64) float64 {
		return 32000 + 9000*math.Sin(2*math.Pi*x/5) + 9000*math.Cos(2*math.Pi*(x+2*y)/14)
	}
	p := plane.New(200, 160)
	for i := range p.Pix {
		p.Pix[i] = uint16(math.Round(wave(float64(i%200), float64(i/200))))
	}
	m := affine.Matrix{0.999, 0.02, 3.37, -0.02, 1.001, 5.71}
	got := drawn(p, m, 200, 160, 0)
	var worst float64
	for y := 10; y < 140; y++ {
		for x := 10; x < 180; x++ {
			px, py := m.Apply(float64(x), float64(y))
			if px > 5 && py > 5 && px < 194 && py < 154 {
				worst = max(worst, math.Abs(float64(got.At(x, y))-wave(px, py)))
			}
		}
	}
	t.Logf("largest error %.0f of an amplitude of 18000", worst)
	if worst > 400 {
		t.Errorf("largest error %.0f codes", worst)
	}
}

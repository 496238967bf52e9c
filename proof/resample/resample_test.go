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

func TestResampleByWholePixelsIsExact(t *testing.T) {
	p := noise(60, 50)
	if got := Plane(p, affine.Identity, nil, 60, 50, 7); !slices.Equal(got.Pix, p.Pix) {
		t.Error("the identity changes codes")
	}
	got := Plane(p, affine.Translate(4, -3), nil, 60, 50, 7)
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
	got := Plane(p, m, nil, 200, 160, 0)
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

func BenchmarkResample(b *testing.B) {
	p := noise(3000, 2000)
	m := affine.Compose(affine.Parts{DX: 3.3, DY: 4.7, Turn: 0.4, StretchX: 1.003, StretchY: 1.002}, 1499.5, 999.5)
	for b.Loop() {
		Plane(p, m, nil, 3000, 2000, 0)
	}
	b.ReportMetric(6/b.Elapsed().Seconds()*float64(b.N), "MP/s")
}

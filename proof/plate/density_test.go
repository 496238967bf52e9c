package plate

import (
	"math"
	"testing"

	"threeply/proof/density"
	"threeply/proof/plane"
	"threeply/proof/scan"
)

// identityCurve is the curve of linear codes.
func identityCurve() scan.Curve {
	c := make(scan.Curve, 65536)
	for i := range c {
		c[i] = float32(float64(i) / 65535)
	}
	return c
}

func TestDensityOfEveryLinearCode(t *testing.T) {
	p := plane.New(256, 256)
	for i := range p.Pix {
		p.Pix[i] = uint16(i)
	}
	toDensity(p, identityCurve())
	worst := 0.0
	for i, code := range p.Pix {
		want := density.Max
		if i > 0 {
			want = min(-math.Log10(float64(i)/65535), density.Max)
		}
		worst = max(worst, math.Abs(density.Of(code)-want))
	}
	t.Logf("largest error %.2g", worst)
	if worst > 0.5*density.Max/65535+1e-6 {
		t.Errorf("density off by %g", worst)
	}
}

func BenchmarkDensity(b *testing.B) {
	p := plane.New(6000, 4000)
	for i := range p.Pix {
		p.Pix[i] = uint16(i * 40503)
	}
	c := identityCurve()
	b.SetBytes(int64(len(p.Pix)))
	for b.Loop() {
		toDensity(p, c)
	}
}

func BenchmarkMeasure24MP(b *testing.B) {
	p := framed(filmed(sceneCodes(5600, 3700, 1), 0.75, 0.25, 1.9), 200, 150, 200, 150, 0.25)
	b.SetBytes(int64(len(p.Pix)))
	for b.Loop() {
		var s Source
		s.Measure(p)
	}
}

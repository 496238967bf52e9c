package overlay

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// edges is a picture of slanted bars whose edges are spread by a Gaussian of
// sigma pixels: between two densities, each edge is the error function.
func edges(w, h int, sigma, contrast float64, seed uint64) *plane.Plane {
	rnd := rand.New(rand.NewPCG(seed, 8))
	p := plane.New(w, h)
	const period = 40.0
	for y := range h {
		for x := range w {
			t := math.Mod(0.94*float64(x)+0.34*float64(y)+1e4, period)
			rise := math.Erf((t-period/4)/(sigma*math.Sqrt2)) - math.Erf((t-3*period/4)/(sigma*math.Sqrt2)) - 1
			p.Pix[y*w+x] = density.Code(1 + contrast*rise/2 + 0.004*rnd.NormFloat64())
		}
	}
	return p
}

func TestBlurFindsTheSpreadOfEdges(t *testing.T) {
	want := [3]float64{1, 1.4, 2.6}
	p := &Plates{Key: 1}
	for i, sigma := range want {
		p.Planes[i] = edges(480, 400, sigma, []float64{0.8, 0.6, 0.9}[i], uint64(i))
		p.Ways[i] = func(x, y float64) (float64, float64) { return x + float64(i-1)*0.4, y }
	}
	got := p.Blur()
	for i := range want {
		// a slope over one pixel is flatter than the steepest by some per cent
		if got[i] < 0.9*want[i] || got[i] > 1.25*want[i] {
			t.Errorf("plate %d: %.2f, want %.2f", i, got[i], want[i])
		}
	}
	t.Logf("%.2f", got)
	for i := range p.Planes {
		p.Planes[i] = plane.New(480, 400)
	}
	if got := p.Blur(); got != [3]float64{} {
		t.Errorf("of blank plates: %v", got)
	}
}

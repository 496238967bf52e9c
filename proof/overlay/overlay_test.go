package overlay

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/plane"
)

// ramps are three plates whose density is a known function of the place on the
// key: a plate moved by (dx, dy) holds it there.
func ramps(w, h int) *Plates {
	p := &Plates{Key: 1, Ways: [3]Way{
		func(x, y float64) (float64, float64) { return x + 3, y - 2 },
		affine.Identity.Apply,
		func(x, y float64) (float64, float64) { return 2*x + 1, 2 * y },
	}}
	dense := func(x, y float64) float64 { return 0.3 + 0.01*x + 0.02*y }
	for i, back := range [3]Way{
		func(u, v float64) (float64, float64) { return u - 3, v + 2 },
		affine.Identity.Apply,
		func(u, v float64) (float64, float64) { return (u - 1) / 2, v / 2 },
	} {
		size := [3]int{1, 1, 2}[i]
		q := plane.New(size*w, size*h)
		for y := range q.H {
			for x := range q.W {
				q.Pix[y*q.W+x] = density.Code(dense(back(float64(x), float64(y))))
			}
		}
		p.Planes[i] = q
	}
	return p
}

func TestDensityIsThatOfTheSamePlace(t *testing.T) {
	p := ramps(60, 40)
	for _, at := range [][2]float64{{10, 12}, {20.5, 7.25}, {50, 30}} {
		for i := range 3 {
			d, ok := p.Density(i, at[0], at[1])
			if want := 0.3 + 0.01*at[0] + 0.02*at[1]; !ok || math.Abs(d-want) > 1e-4 {
				t.Errorf("plate %d at %v: %.4f, want %.4f", i, at, d, want)
			}
		}
	}
	if _, ok := p.Density(0, 10, 0.5); ok {
		t.Error("the red plate has a density above its edge")
	}
	if _, ok := p.Density(1, -1, 5); ok {
		t.Error("the key has a density beside its edge")
	}
}

func TestInPicture(t *testing.T) {
	p := ramps(60, 40)
	p.Areas[2] = [4]int{20, 20, 100, 60}
	for at, want := range map[[2]float64]bool{{20, 20}: true, {5, 20}: false, {20, 5}: false, {52, 20}: false, {20, 0}: false, {59, 39}: false} {
		if got := p.InPicture(at[0], at[1]); got != want {
			t.Errorf("%v: %v", at, got)
		}
	}
}

func TestReducedShowsTheSamePlaces(t *testing.T) {
	p := ramps(64, 48)
	q, scale := p.Reduced(2)
	if w, h := q.Size(); w != 16 || h != 12 || scale != 4 {
		t.Fatalf("%d × %d, %g", w, h, scale)
	}
	for i := range 3 {
		d, _ := p.Density(i, 4*7+1.5, 4*6+1.5)
		r, _ := q.Density(i, 7, 6)
		if math.Abs(d-r) > 1e-4 {
			t.Errorf("plate %d: %.4f at full size, %.4f reduced", i, d, r)
		}
	}
}

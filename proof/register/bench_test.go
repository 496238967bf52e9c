package register

import (
	"context"
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// enlarged is a plate of 6000 × 4000 pixels, drawn from a smaller one through
// m with a fine grain over it.
func enlarged(p *plane.Plane, m affine.Matrix, seed uint32) *plane.Plane {
	const w, h = 6000, 4000
	inv, ok := m.Inverse()
	if !ok {
		panic("the map must have an inverse")
	}
	s := affine.Scale(float64(p.W-1)/w, float64(p.H-1)/h)
	t := s.Mul(inv)
	out := plane.New(w, h)
	for y := range h {
		for x := range w {
			px, py := t.Apply(float64(x), float64(y))
			seed = seed*1664525 + 1013904223
			out.Pix[y*w+x] = uint16(min(max(p.Bilinear(px, py)+float64(int32(seed)>>22), 0), math.MaxUint16))
		}
	}
	return out
}

func set24() [3]*plane.Plane {
	p := view(drawn(2000, 1333, 3), 1)
	return [3]*plane.Plane{
		enlarged(p, about(6000, 4000, affine.Parts{DX: 31, DY: -44, Turn: 0.4, StretchX: 1.004, StretchY: 1.003}), 1),
		enlarged(p, affine.Identity, 2),
		enlarged(p, about(6000, 4000, affine.Parts{DX: -20, DY: 12, Turn: -0.2, StretchX: 0.998, StretchY: 0.999}), 3),
	}
}

// BenchmarkPlanes24MP registers three plates of 24 megapixels, decoding aside.
func BenchmarkPlanes24MP(b *testing.B) {
	planes := set24()
	var got [3]Plate
	for b.Loop() {
		var err error
		if got, err = Planes(context.Background(), planes, Options{Key: 1}); err != nil {
			b.Fatal(err)
		}
	}
	rms, _ := errorsOf(got[0].Matrix, about(6000, 4000, affine.Parts{DX: 31, DY: -44, Turn: 0.4, StretchX: 1.004, StretchY: 1.003}), 6000, 4000)
	b.ReportMetric(rms, "px-rms")
	b.ReportMetric(72/b.Elapsed().Seconds()*float64(b.N), "MP/s")
}

// BenchmarkTurned24MP registers plates of which one lies mirrored, turned and
// of another scale.
func BenchmarkTurned24MP(b *testing.B) {
	p := view(drawn(2000, 1333, 3), 1)
	m := about(6000, 4000, affine.Parts{Turn: 187, StretchX: 0.9, StretchY: -0.9})
	key := enlarged(p, affine.Identity, 2)
	planes := [3]*plane.Plane{enlarged(p, m, 1), key, key}
	for b.Loop() {
		if _, err := Planes(context.Background(), planes, Options{Key: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPropose24MP tells which of three plates in register would make the best key.
func BenchmarkPropose24MP(b *testing.B) {
	planes := set24()
	opt := Options{Key: 1}
	found, err := Planes(context.Background(), planes, opt)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Propose(planes, opt, found, [3]string{"red", "green", "blue"})
	}
}

// BenchmarkPlanesSmall registers three plates of 0.6 megapixels.
func BenchmarkPlanesSmall(b *testing.B) {
	s := drawn(900, 667, 3)
	look := func(m affine.Matrix, seed uint64) *plane.Plane {
		return s.shoot(900, 667, 1, shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, noise: 0.01, m: m}, seed)
	}
	planes := [3]*plane.Plane{
		look(about(900, 667, affine.Parts{DX: 5, DY: -7, Turn: 0.4, StretchX: 1.004, StretchY: 1.003}), 1),
		look(affine.Identity, 2),
		look(about(900, 667, affine.Parts{DX: -3, DY: 2, Turn: -0.2, StretchX: 0.998, StretchY: 0.999}), 3),
	}
	for b.Loop() {
		if _, err := Planes(context.Background(), planes, Options{Key: 1, Workers: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

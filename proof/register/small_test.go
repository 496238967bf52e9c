package register

import (
	"context"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

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

package register

import (
	"context"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

func TestProposeTheSharpPlate(t *testing.T) {
	s := drawn(1000, 800, 4)
	take := func(blur, noise float64, seed uint64) *plane.Plane {
		return s.shoot(1000, 800, 1, shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, blur: blur, noise: noise, m: affine.Identity}, seed)
	}
	sharp, fair, soft := take(0, 0.02, 1), take(0.8, 0.03, 2), take(3, 0.05, 3)
	names := [3]string{"red", "green", "blue"}
	for _, c := range []struct {
		planes [3]*plane.Plane
		key    int
	}{
		{[3]*plane.Plane{fair, soft, sharp}, 1}, {[3]*plane.Plane{soft, fair, sharp}, 1}, {[3]*plane.Plane{soft, sharp, fair}, 0},
	} {
		opt := Options{Key: c.key}
		_, p, err := PlanesAndKey(context.Background(), c.planes, opt, names)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("key %d: %.2f, %s", p.Key, p.Score, p.Why)
		if c.planes[p.Key] == soft {
			t.Errorf("the soft plate %d is proposed: %v", p.Key, p.Score)
		}
	}
}

func TestProposeKeepsTheKeyWhereNothingFits(t *testing.T) {
	a := view(drawn(500, 400, 4), 1)
	planes := [3]*plane.Plane{a, a, flatPlane(500, 400)}
	opt := Options{Key: 1}
	if _, p, err := PlanesAndKey(context.Background(), planes, opt, [3]string{"red", "green", "blue"}); err != nil || p.Key != 1 || p.Why == "" {
		t.Errorf("%+v, %v", p, err)
	}
}

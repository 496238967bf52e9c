package register

import (
	"context"
	"math"
	"testing"

	"threeply/proof/plane"
)

// bent samples p where a smooth displacement of a few pixels puts it, as
// unevenly shrunken film would lie.
func bent(p *plane.Plane, amount float64) *plane.Plane {
	out := plane.New(p.W, p.H)
	for y := range p.H {
		for x := range p.W {
			dx, dy := bend(float64(x)/float64(p.W), float64(y)/float64(p.H), amount)
			out.Pix[y*p.W+x] = uint16(p.Bilinear(float64(x)-dx, float64(y)-dy))
		}
	}
	return out
}

func bend(u, v, amount float64) (dx, dy float64) {
	return amount * math.Sin(math.Pi*u), amount * 0.7 * math.Sin(math.Pi*v) * math.Cos(math.Pi*u/2)
}

func TestSmoothStraightensABentPlate(t *testing.T) {
	t.Parallel()
	p := view(drawn(900, 660, 4), 1)
	got, err := Planes(context.Background(), [3]*plane.Plane{p, bent(p, 1.5), p}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	l, ok := Smooth(got[1].Field, p.W, p.H)
	if !ok {
		t.Fatal("no local model")
	}
	t.Logf("before %+v, after %+v", l.Before, l.After)
	if !l.Worth() || l.After.Median > 0.5*l.Before.Median {
		t.Errorf("median of what was not seen: %.3f before, %.3f after", l.Before.Median, l.After.Median)
	}
}

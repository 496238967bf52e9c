package register

import (
	"context"
	"math"
	"math/rand/v2"
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
	p := view(drawn(1500, 1100, 4), 1)
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

func TestSmoothOnAStiffPlateChangesLittle(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	var field []Offset
	for range 100 {
		field = append(field, Offset{X: rnd.Float64() * 2000, Y: rnd.Float64() * 1500, DX: rnd.NormFloat64() * 0.1, DY: rnd.NormFloat64() * 0.1, Certainty: 0.8})
	}
	l, ok := Smooth(field, 2000, 1500)
	if !ok {
		t.Fatal("no local model")
	}
	var largest float64
	for j := range 21 {
		for i := range 21 {
			largest = max(largest, math.Hypot(l.At(float64(i)*100, float64(j)*75)))
		}
	}
	t.Logf("noise of 0.1 px: before %.3f, after %.3f, largest displacement %.3f px", l.Before.Median, l.After.Median, largest)
	if l.Worth() || largest > 0.25 || l.After.Median < 0.8*l.Before.Median {
		t.Errorf("largest %.3f px; before %+v, after %+v", largest, l.Before, l.After)
	}
}

func TestSmoothNeverFolds(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	accepted := 0
	for range 200 {
		var field []Offset
		size := math.Exp2(rnd.Float64() * 9)
		for range 60 {
			field = append(field, Offset{X: rnd.Float64() * 400, Y: rnd.Float64() * 300, DX: rnd.NormFloat64() * size, DY: rnd.NormFloat64() * size, Certainty: rnd.Float64()})
		}
		l, ok := Smooth(field, 400, 300)
		if !ok {
			continue
		}
		accepted++
		// A finer look than its own at the sign of the area.
		for j := range 99 {
			for i := range 99 {
				x, y := float64(i)*4, float64(j)*3
				ax, ay := l.At(x, y)
				bx, by := l.At(x+0.5, y)
				cx, cy := l.At(x, y+0.5)
				if (1+(bx-ax)*2)*(1+(cy-ay)*2)-(cx-ax)*2*(by-ay)*2 <= 0 {
					t.Fatalf("folds at %.0f, %.0f with offsets of %.0f px", x, y, size)
				}
			}
		}
	}
	t.Logf("%d of 200 accepted", accepted)
	if accepted == 0 || accepted == 200 {
		t.Errorf("%d of 200 accepted: the test shows nothing", accepted)
	}
	if _, ok := Smooth(nil, 400, 300); ok {
		t.Error("a model of no patches")
	}
}

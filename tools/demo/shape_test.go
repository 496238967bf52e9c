package main

import (
	"math"
	"testing"
)

// A lathe, a field and an ellipsoid of the same ball are met at the same place.
func TestSolidsOfTheSameBallAgree(t *testing.T) {
	f := place(vec{0.3, -0.2, 0.1}, 30, 20, 10)
	var outline []knot
	for i := range 25 {
		s, c := math.Sincos(math.Pi * float64(i) / 24)
		outline = append(outline, knot{s, -c})
	}
	solids := map[string]shape{
		"lathe": turned(f, outline...),
		"field": tabulate(f, vec{-1.2, -1.2, -1.2}, vec{1.2, 1.2, 1.2}, 0.04, func(p vec) float64 { return toBall(p, vec{}, 1) }),
	}
	exact := ball(f.O, 1)
	r := random(3)
	worst := 0.0
	for range 500 {
		o := vec{r.normal(), r.normal(), r.normal()}.unit().mul(4)
		d := f.O.add(vec{r.normal(), r.normal(), r.normal()}.unit().mul(0.8 * r.float())).sub(o).unit()
		var want, got hit
		if !exact.intersect(o, d, lift, 100, &want) {
			t.Fatalf("the ray from %v along %v misses the ball", o, d)
		}
		for name, s := range solids {
			if !s.intersect(o, d, lift, 100, &got) {
				t.Fatalf("%s: the ray from %v along %v misses", name, o, d)
			}
			worst = max(worst, math.Abs(got.T-want.T))
			if got.N.dot(want.N) < 0.999 {
				t.Errorf("%s: normal %v, want %v", name, got.N, want.N)
			}
		}
	}
	if worst > 0.006 {
		t.Errorf("met %.4f from where the ball is", worst)
	}
}

func TestBunchFindsTheNearestOfMany(t *testing.T) {
	r := random(9)
	var eggs []*egg
	for range 60 {
		eggs = append(eggs, ball(vec{r.between(-2, 2), r.between(-2, 2), r.between(-2, 2)}, r.between(0.05, 0.3)))
	}
	b := bunchOf(eggs)
	met := 0
	for range 1000 {
		o := vec{r.normal(), r.normal(), r.normal()}.unit().mul(6)
		d := vec{r.between(-2, 2), r.between(-2, 2), r.between(-2, 2)}.sub(o).unit()
		want, part := math.Inf(1), -1
		for i, e := range eggs {
			var h hit
			if e.intersect(o, d, lift, want, &h) {
				want, part = h.T, i
			}
		}
		var got hit
		if b.intersect(o, d, lift, math.Inf(1), &got) != (part >= 0) || part >= 0 && (got.T != want || got.Part != part) {
			t.Fatalf("found part %d at %g, want %d at %g", got.Part, got.T, part, want)
		}
		if part >= 0 {
			met++
		}
	}
	if met < 100 {
		t.Errorf("only %d rays met anything", met)
	}
}

func TestCameraProjectsWhatItsRaysMeet(t *testing.T) {
	c := look(vec{0.5, 5, 17}, vec{0, 2, 0}, 36, 17, 0, 320, 231)
	for _, at := range [][2]float64{{0, 0}, {159.5, 115}, {300.25, 40.5}} {
		o, d := c.ray(at[0], at[1], 0, 0)
		x, y := c.project(o.along(13, d))
		if math.Abs(x-at[0]) > 1e-9 || math.Abs(y-at[1]) > 1e-9 {
			t.Errorf("the ray of %v comes back to (%g, %g)", at, x, y)
		}
	}
}

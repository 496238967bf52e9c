package main

import "testing"

// Where a ray meets the cloth it has not sunk into it, on steep folds either.
func TestRaysStayAboveTheCloth(t *testing.T) {
	even := func(v float64) func(x, z float64) float64 { return func(_, _ float64) float64 { return v } }
	steep := []fold{{X: 0, Z: 0, Turn: 20, High: 0.6, Wide: 0.12, Long: 3}}
	c := lay(vec{-2, -0.03, -2}, vec{2, 0, 2}, 0.02, steep, even(1), even(0))
	r := random(5)
	met := 0
	for range 2000 {
		o := vec{r.between(-2, 2), r.between(1, 4), r.between(2, 5)}
		d := vec{r.between(-0.6, 0.6), 0.1, r.between(-0.6, 0.6)}.sub(o).unit()
		var h hit
		if !c.intersect(o, d, 0, 20, &h) {
			continue
		}
		met++
		p := o.along(h.T, d)
		if off := p.Y - c.at(p.X, p.Z); off < -1e-9 || off > 0.02 {
			t.Fatalf("the ray from %v along %v ends %.4f above the cloth", o, d, off)
		}
	}
	if met < 1500 {
		t.Errorf("only %d rays met the cloth", met)
	}
}

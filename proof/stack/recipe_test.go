package stack

import (
	"math"
	"testing"

	"threeply/proof/pigment"
)

func TestNoPigmentIsThePaper(t *testing.T) {
	for _, f := range Finishes() {
		for _, p := range pigment.Palettes() {
			r := DefaultRecipe(p)
			r.Surface = f.Surface
			for i, v := range r.Reflectance([3]float64{}) {
				if !(math.Abs(v-r.Paper.R[i]) < 1e-14) {
					t.Fatalf("%s %s sample %d: %v, want %v", f.ID, p.ID, i, v, r.Paper.R[i])
				}
			}
		}
	}
}

func TestSlopesFollowReflectance(t *testing.T) {
	p, _ := pigment.PaletteByID("earth")
	worst := 0.0
	for _, o := range Orders() {
		r := DefaultRecipe(p)
		r.Order, r.Surface = o, Satin.Surface
		l := r.Layers()
		at := [3]float64{0.7, 0.3, 1.1}
		out, by := l.Slopes(at)
		for j := range at {
			const h = 1e-5
			up, down := at, at
			up[j] += h
			down[j] -= h
			a, b := l.Reflectance(up), l.Reflectance(down)
			for i := range a {
				worst = max(worst, math.Abs((a[i]-b[i])/(2*h)-by[j][i]))
			}
		}
		for i, v := range l.Reflectance(at) {
			if !(math.Abs(v-out[i]) < 1e-14) {
				t.Errorf("%s: reflectance %v and %v", o, v, out[i])
			}
		}
	}
	t.Logf("largest error of a slope %.2g", worst)
	if !(worst < 1e-8) {
		t.Error("slopes do not follow the reflectance")
	}
}

package stack

import (
	"math"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
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

// The order matters by scattering alone.
func TestOrderOfClearLayers(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	clear, hazy := 0.0, 0.0
	for _, o := range Orders() {
		r := DefaultRecipe(p)
		r.Order = o
		first := DefaultRecipe(p).Layers()
		now := r.Layers()
		at := [3]float64{0.4, 0.5, 0.6}
		a, b := first.Reflectance(at), now.Reflectance(at)
		first.S, now.S = [3]spectrum.Curve{}, [3]spectrum.Curve{}
		c, d := first.Reflectance(at), now.Reflectance(at)
		for i := range a {
			hazy = max(hazy, math.Abs(a[i]-b[i]))
			clear = max(clear, math.Abs(c[i]-d[i]))
		}
	}
	t.Logf("largest difference of reflectance: clear %.2g, scattering %.2g", clear, hazy)
	if !(clear < 1e-14) {
		t.Error("the order of clear layers matters")
	}
	if !(hazy > 0.005) {
		t.Error("the order of scattering layers does not matter")
	}
}

// Absurd loads give dark prints, not errors.
func TestAbsurdAmounts(t *testing.T) {
	p, _ := pigment.PaletteByID("earth")
	for _, v := range DefaultRecipe(p).Reflectance([3]float64{1e9, 1e-300, 1e5}) {
		if !(v >= 0 && v < 1) {
			t.Fatalf("reflectance %v", v)
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

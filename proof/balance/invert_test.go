package balance

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// A colour made of known amounts must be found again.
func TestInvertInsideTheReach(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	worst := 0.0
	for _, p := range pigment.Palettes() {
		r := stack.DefaultRecipe(p)
		c := cube.New(r, d50(), 17)
		for range 40 {
			a := [3]float64{rnd.Float64() * 1.5, rnd.Float64() * 1.5, rnd.Float64() * 1.5}
			want := d50().Lab(r.Reflectance(a))
			got, dE := Invert(r, c, d50(), want)
			made := d50().Lab(r.Reflectance(got))
			worst = max(worst, dE)
			if !(math.Abs(spectrum.DeltaE00(made, want)-dE) < 1e-9) {
				t.Fatalf("%s %v: says %v, is %v", p.ID, a, dE, spectrum.DeltaE00(made, want))
			}
		}
	}
	t.Logf("largest ΔE00 %.2g", worst)
	if !(worst < 0.01) {
		t.Error("colours within reach are missed")
	}
}

// Out of reach nothing on a fine grid of amounts comes nearer.
func TestInvertOutOfReach(t *testing.T) {
	r := recipe(t, "gamboge")
	c := cube.New(r, d50(), 33)
	for _, want := range []spectrum.Lab{{100, 0, 0}, {50, 0, -90}, {60, 90, 0}, {0, 0, 0}, {90, -60, 100}, {50, -80, -20}} {
		got, dE := Invert(r, c, d50(), want)
		for _, x := range got {
			if !(x >= 0 && x <= cube.Max) {
				t.Errorf("%v: amounts %v", want, got)
			}
		}
		best := math.Inf(1)
		for i := 0; i+2 < len(c.Lab); i += 3 {
			best = min(best, spectrum.DeltaE00(spectrum.Lab{float64(c.Lab[i]), float64(c.Lab[i+1]), float64(c.Lab[i+2])}, want))
		}
		t.Logf("%v: %.2f at %.2f, best node %.2f", want, dE, got, best)
		if !(dE <= best+0.05) {
			t.Errorf("%v: ΔE00 %v, a node has %v", want, dE, best)
		}
	}
}

func BenchmarkInvert(b *testing.B) {
	r, light := recipe(b, "earth"), d50()
	c := cube.New(r, light, 33)
	for b.Loop() {
		Invert(r, c, light, spectrum.Lab{45, 10, -12})
	}
}

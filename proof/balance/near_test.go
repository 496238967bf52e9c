package balance

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// A colour made of known amounts must be found again, as the exact stack prints
// it; nearly black layers are the exception that the doc comment names.
func TestNearInsideTheReach(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	var off []float64
	for _, p := range pigment.Palettes() {
		r := stack.DefaultRecipe(p)
		c := cube.New(r, d50(), 33)
		for range 40 {
			a := [3]float64{rnd.Float64(), rnd.Float64(), rnd.Float64()}
			want := d50().Lab(r.Reflectance(a))
			got, dE := Near(c, want, math.Inf(1))
			if said := spectrum.DeltaE00(c.At(got), want); !(math.Abs(said-dE) < 1e-6) {
				t.Fatalf("%s %v: says %v, is %v", p.ID, a, dE, said)
			}
			off = append(off, spectrum.DeltaE00(d50().Lab(r.Reflectance(got)), want))
		}
	}
	slices.Sort(off)
	p95, worst := off[len(off)*95/100], off[len(off)-1]
	t.Logf("ΔE00 over %d: median %.3f, 95th percentile %.3f, largest %.3f", len(off), off[len(off)/2], p95, worst)
	if !(p95 < 0.2 && worst < 2) {
		t.Error("colours within reach are missed")
	}
}

// Out of reach little on a fine grid of amounts comes nearer.
func TestNearOutOfReach(t *testing.T) {
	r := recipe(t, "gamboge")
	c := cube.New(r, d50(), 33)
	for _, want := range []spectrum.Lab{{100, 0, 0}, {50, 0, -90}, {60, 90, 0}, {0, 0, 0}, {90, -60, 100}, {50, -80, -20}} {
		got, dE := Near(c, want, math.Inf(1))
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
		if !(dE <= 1.1*best+0.05) {
			t.Errorf("%v: ΔE00 %v, a node has %v", want, dE, best)
		}
	}
}

func BenchmarkNear(b *testing.B) {
	r, light := recipe(b, "earth"), d50()
	c := cube.New(r, light, 33)
	for b.Loop() {
		Near(c, spectrum.Lab{45, 10, -12}, math.Inf(1))
	}
}

package fit

import (
	"math"

	"threeply/proof/filter"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// otherMake is by how many nm the bands of another make of a pigment lie elsewhere: a standard
// deviation (assumed).
const otherMake = 5.0

// byShape is by how much held-out patches would differ, as a mean ΔE00, if the bands of the
// layers lay elsewhere than they are taken to, each as makes of one pigment differ, while each
// layer still has the density that was read through its own filter.
func (f *fitted) byShape(l *stack.Layers) float64 {
	var held []testsheet.Patch
	for _, p := range f.Sheet.Patches {
		if p.Use == testsheet.HeldOut {
			held = append(held, p)
		}
	}
	squares := 0.0
	for i := range 3 {
		for _, nm := range []float64{-otherMake, otherMake} {
			other := *l
			other.K[i] = f.rescaled(l, i, shifted(l.K[i], nm))
			sum := 0.0
			for _, p := range held {
				sum += spectrum.DeltaE00(f.predicted(l, p), f.predicted(&other, p))
			}
			mean := sum / float64(max(len(held), 1))
			squares += mean * mean / 2
		}
	}
	return math.Sqrt(squares)
}

// rescaled is an absorption of a layer, scaled so that half of it has the density that the
// layer's own has, through its filter.
func (f *fitted) rescaled(l *stack.Layers, i int, k spectrum.Curve) spectrum.Curve {
	on := *l
	for j, v := range f.ground[testsheet.White] {
		on.Ground[j] = l.Surface.Inside(v)
	}
	density := func(k spectrum.Curve) float64 {
		on.K[i] = k
		var t [3]float64
		t[i] = 0.5
		return f.Readings.status.Densities(on.Reflectance(t))[filter.Of(pigment.Printer(i))]
	}
	want := density(l.K[i])
	low, high := math.Log(0.2), math.Log(5.0)
	for range 25 {
		if mid := (low + high) / 2; density(k.Scale(math.Exp(mid))) < want {
			low = mid
		} else {
			high = mid
		}
	}
	return k.Scale(math.Exp(high))
}

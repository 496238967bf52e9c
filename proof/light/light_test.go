package light

import (
	"math"
	"testing"
)

const side = 14

// tiny is a picture of side × side points by a function of the place.
func tiny(f func(x, y int) [3]float64) *Picture {

	p := &Picture{W: side, H: side, Use: make([]bool, side*side)}
	for k := range p.Exposure {
		p.Exposure[k] = make([]float64, side*side)
	}
	for y := range side {
		for x := range side {
			p.Use[y*side+x] = true
			for k, v := range f(x, y) {
				p.Exposure[k][y*side+x] = v
			}
		}
	}
	return p
}

func within(t *testing.T, what string, got, want Light) {
	t.Helper()
	for i := range got {
		if math.Abs(got[i]-want[i]) > 1e-9 {
			t.Errorf("%s: %v, want %v", what, got, want)
			return
		}
	}
}

// The estimates of pictures whose means, largest values and gradients can be
// worked out by hand from the formula.
func TestEstimatesByHand(t *testing.T) {
	estimate := func(p *Picture, order int, norm float64) Light {
		t.Helper()
		l, ok := Assumption{Order: order, Norm: norm}.Estimate(p)
		if !ok {
			t.Fatal("no estimate")
		}
		return l
	}
	// The left half 1, 2, 4; the right half 3, 2, 0: means 2, 2, 2 and largest
	// values 3, 2, 4. Root mean squares √5, 2, √8.
	halves := tiny(func(x, _ int) [3]float64 {
		if x < side/2 {
			return [3]float64{1, 2, 4}
		}
		return [3]float64{3, 2, 0}
	})
	within(t, "grey world", estimate(halves, 0, 1), Light{1, 1, 1})
	within(t, "white patch", estimate(halves, 0, math.Inf(1)), Light{1.5, 1, 2})
	within(t, "root mean square", estimate(halves, 0, 2), Light{math.Sqrt(5) / 2, 1, math.Sqrt(8) / 2})
	// Slopes 2, 1 and 3 a point, whatever lies below them.
	ramps := tiny(func(x, y int) [3]float64 { return [3]float64{7 + 2*float64(x), 1 + float64(y), 3 * float64(x)} })
	within(t, "grey edge", estimate(ramps, 1, 1), Light{2, 1, 3})
	within(t, "grey edge, p 6", estimate(ramps, 1, 6), Light{2, 1, 3})
	// 3x + 4y has the gradient 5, 5x the same.
	slanted := tiny(func(x, y int) [3]float64 {
		return [3]float64{3*float64(x) + 4*float64(y), 5 * float64(x), 10 * float64(y)}
	})
	within(t, "slanted", estimate(slanted, 1, 1), Light{1, 1, 2})
	// x² has the second derivative 2, 2x² + 3xy has √(16+36).
	curved := tiny(func(x, y int) [3]float64 {
		u, v := float64(x), float64(y)
		return [3]float64{u * u, v * v, 2*u*u + 3*u*v}
	})
	within(t, "second order", estimate(curved, 2, 1), Light{1, 1, math.Sqrt(52) / 2})
}

// The light on a scene multiplies every estimate (van de Weijer et al., eq. 5):
// a plate that got twice the exposure is found one stop above.
func TestEstimatesFollowTheLight(t *testing.T) {
	scene := func(x, y int) [3]float64 {
		return [3]float64{1 + math.Sin(float64(x*y)), 1.5 + math.Cos(float64(x+3*y)), 1.2 + math.Sin(float64(2*x-y))}
	}
	lit := func(x, y int) [3]float64 {
		v := scene(x, y)
		return [3]float64{2 * v[0], v[1], v[2] / 4}
	}
	for _, a := range Assumptions() {
		dark, _ := a.Estimate(tiny(scene))
		bright, ok := a.Estimate(tiny(lit))
		if !ok {
			t.Fatalf("%s: no estimate", a.Name)
		}
		d, b := dark.Stops(), bright.Stops()
		if math.Abs(b[0]-d[0]-1) > 1e-9 || math.Abs(b[2]-d[2]+2) > 1e-9 {
			t.Errorf("%s: %v without the light, %v with it", a.Name, d, b)
		}
	}
}

// What may not be used changes nothing, whatever stands there.
func TestWhatIsLeftOutDoesNotCount(t *testing.T) {
	scene := func(x, y int) [3]float64 {
		return [3]float64{float64(1 + x + y%3), float64(2 + x%4 + y), float64(3 + (x*y)%5)}
	}
	clean, dirty := tiny(scene), tiny(scene)
	for _, p := range []*Picture{clean, dirty} {
		for y := range 3 {
			for x := range 3 {
				p.Use[y*p.W+x] = false
			}
		}
	}
	for k := range dirty.Exposure {
		dirty.Exposure[k][side+1] = 1e6 * float64(k+1)
	}
	for _, a := range Assumptions() {
		want, _ := a.Estimate(clean)
		got, ok := a.Estimate(dirty)
		if !ok || got != want {
			t.Errorf("%s: %v, want %v", a.Name, got, want)
		}
	}
}

func TestNothingToEstimateFrom(t *testing.T) {
	empty := tiny(func(int, int) [3]float64 { return [3]float64{1, 1, 1} })
	clear(empty.Use)
	black := tiny(func(int, int) [3]float64 { return [3]float64{1, 0, 1} })
	for _, a := range Assumptions() {
		for _, p := range []*Picture{empty, black, {}} {
			if l, ok := a.Estimate(p); ok {
				t.Errorf("%s: %v of nothing", a.Name, l)
			}
		}
	}
}

// Angles: (1,0,0)-like cases cannot occur, for lights are above 0; 1,1,1 against
// itself is 0, and one plate e times off turns the vector by a known angle.
func TestAngle(t *testing.T) {
	if a := angle(Light{1, 1, 1}, Light{1, 1, 1}); a != 0 {
		t.Errorf("%g", a)
	}
	// Divided by their geometric mean they are (√2, 1, 1) and (1/√2, 1, 1):
	// cos = 3 / √(4 · 2.5).
	want := math.Acos(3/math.Sqrt(10)) * 180 / math.Pi
	if a := angle(Light{2, 1, 1}, Light{1, 1, 1}); math.Abs(a-want) > 1e-9 {
		t.Errorf("%g, want %g", a, want)
	}
	if a, b := angle(Light{2, 1, 5}, Light{1, 1, 3}), angle(Light{20, 1, 0.5}, Light{10, 1, 0.3}); math.Abs(a-b) > 1e-9 {
		t.Errorf("the unit of a plate counts: %g and %g", a, b)
	}
}

// angle is the angle between two lights as vectors, in degrees, the usual
// measure of how far estimates lie apart. What a plate's unit is does not count
// where both are first divided by the same light; so it is taken after both
// are divided by their geometric mean.
func angle(a, b Light) float64 {
	var dot, aa, bb float64
	for i := range a {
		m := math.Sqrt(a[i] * b[i])
		x, y := a[i]/m, b[i]/m
		dot += x * y
		aa += x * x
		bb += y * y
	}
	return math.Acos(min(dot/math.Sqrt(aa*bb), 1)) * 180 / math.Pi
}

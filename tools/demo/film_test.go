package main

import (
	"math"
	"testing"
)

func TestEmulsionHasItsGammaAndItsFog(t *testing.T) {
	for _, p := range plates(defaultSize, 1271, 1) {
		e := p.film
		slope := (e.density(math.Pow(10, -0.3)) - e.density(math.Pow(10, -0.7))) / 0.4
		if math.Abs(slope/e.Gamma-1) > 0.03 {
			t.Errorf("%s: slope %.3f in the middle, γ %.3f", p.name, slope, e.Gamma)
		}
		if d := e.density(0); math.Abs(d-e.Fog) > 1e-3 {
			t.Errorf("%s: %.4f unexposed, base and fog %.4f", p.name, d, e.Fog)
		}
		if d := e.density(1e6); math.Abs(d-e.Fog-e.Max) > 0.02 {
			t.Errorf("%s: %.3f far over, want %.3f", p.name, d, e.Fog+e.Max)
		}
	}
}

// A filter takes the light that its name says: nine tenths and more of what
// counts comes from its own third of the spectrum.
func TestFiltersKeepToTheirThird(t *testing.T) {
	third := [3][2]float64{{580, 700}, {480, 600}, {400, 500}}
	for k, s := range sensitivity(flat(1)) {
		in, all := 0.0, 0.0
		for i, v := range s {
			all += float64(v)
			if nm := wavelength(i); nm >= third[k][0] && nm <= third[k][1] {
				in += float64(v)
			}
		}
		if math.Abs(all-1) > 1e-5 || in < 0.9 {
			t.Errorf("%s: %.3f of %.5f within %v nm", plateNames[k], in, all, third[k])
		}
	}
}

func TestCubicPassesThroughTheSamplesAndAQuadratic(t *testing.T) {
	const n = 9
	pix := make([]float32, n*n)
	f := func(x, y float64) float64 { return 3 + x*x + 0.5*x*y + y*y }
	for i := range pix {
		pix[i] = float32(f(float64(i%n), float64(i/n)))
	}
	for _, at := range [][2]float64{{4, 4}, {3.25, 5.5}, {2, 6.75}} {
		if got, want := cubic(pix, n, n, at[0], at[1]), f(at[0], at[1]); math.Abs(got-want) > 1e-4 {
			t.Errorf("at %v: %g, want %g", at, got, want)
		}
	}
}

// Blurring a point gives the Gaussian's height 1/(2πσ²), and keeps the sum.
func TestBlurIsGaussian(t *testing.T) {
	const n, sigma = 31, 1.5
	pix := make([]float32, n*n)
	pix[15*n+15] = 1
	out := blurred(pix, n, n, sigma)
	sum := 0.0
	for _, v := range out {
		sum += float64(v)
	}
	if want := 1 / (2 * math.Pi * sigma * sigma); math.Abs(float64(out[15*n+15])/want-1) > 0.01 || math.Abs(sum-1) > 1e-4 {
		t.Errorf("peak %.5f, want %.5f; sum %.5f", out[15*n+15], want, sum)
	}
}

// The grain is as strong as said, and its grains are wider than a pixel.
func TestGrainHasItsStrengthAndItsSize(t *testing.T) {
	const w, h = 200, 150
	d := make([]float32, w*h)
	for i := range d {
		d[i] = 1.3
	}
	addGrain(d, w, h, 0.3, 5)
	square, beside := 0.0, 0.0
	for i := range w*h - 1 {
		a, b := float64(d[i])-1.3, float64(d[i+1])-1.3
		square += a * a
		beside += a * b
	}
	got, want := math.Sqrt(square/(w*h)), 0.0025+0.0085
	if math.Abs(got/want-1) > 0.05 {
		t.Errorf("deviation %.4f, want %.4f", got, want)
	}
	if r := beside / square; r < 0.55 || r > 0.85 {
		t.Errorf("neighbours correlate by %.2f", r)
	}
}

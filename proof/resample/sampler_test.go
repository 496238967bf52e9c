package resample

import (
	"math"
	"testing"

	"threeply/proof/plane"
)

// wave is a plane of a wave of so many pixels, along both axes.
func wave(w, h int, period float64) *plane.Plane {
	p := plane.New(w, h)
	for y := range h {
		for x := range w {
			p.Pix[y*w+x] = uint16(32768 + 12000*math.Sin(2*math.Pi*float64(x)/period) + 12000*math.Sin(2*math.Pi*float64(y)/period))
		}
	}
	return p
}

// Of the plane only the rows that Reach tells are read, and these wherever they begin.
func TestSamplerReadsNoFurtherThanItsReach(t *testing.T) {
	whole := wave(40, 200, 9)
	for _, shrunk := range []float64{1, 2.5} {
		part := &plane.Plane{W: 40, H: 200, From: 90 - Reach(shrunk)}
		part.Pix = whole.Pix[part.From*40 : (91+Reach(shrunk)+1)*40]
		all, some := NewSampler(whole, shrunk), NewSampler(part, shrunk)
		for y := 90.0; y <= 91; y += 0.125 {
			for x := 0.0; x < 39.5; x += 0.7 {
				want, _ := all.At(x, y)
				if got, ok := some.At(x, y); !ok || got != want {
					t.Fatalf("shrunk %g: %d at %g, %g, want %d", shrunk, got, x, y, want)
				}
			}
		}
	}
}

// Drawn smaller, waves finer than the picture's pixels are gone, and those that it can
// hold stay: the sampling theorem (C. E. Shannon, Proc. IRE 37, 1949, 10).
func TestSamplerDoesNotAlias(t *testing.T) {
	const shrunk = 4.0
	for _, c := range []struct{ period, least, most float64 }{{3.3, 0, 0.02}, {5, 0, 0.03}, {48, 0.97, 1.03}} {
		s := NewSampler(wave(400, 60, c.period), shrunk)
		largest := 0.0
		for x := 40.0; x < 360; x += shrunk {
			a, _ := s.At(x, 30)
			b, _ := s.At(x, 30+c.period/2) // the wave down the plane falls out of the mean
			largest = max(largest, math.Abs((float64(a)+float64(b))/2-32768)/12000)
		}
		if !(largest >= c.least && largest <= c.most) {
			t.Errorf("a wave of %g pixels at a %gth: %.3f of it is left, want %g to %g", c.period, shrunk, largest, c.least, c.most)
		}
	}
}

// A flat plane stays flat to its edges, and beyond them there is nothing.
func TestSamplerAtTheEdge(t *testing.T) {
	p := plane.New(30, 20)
	for i := range p.Pix {
		p.Pix[i] = 40000
	}
	for _, shrunk := range []float64{1, 2.5, 1000} {
		s := NewSampler(p, shrunk)
		for _, at := range [][2]float64{{-0.5, -0.5}, {0, 19}, {29.4, 19.4}, {15, 10}} {
			if got, ok := s.At(at[0], at[1]); !ok || math.Abs(float64(got)-40000) > 2 {
				t.Errorf("%g at %v: %d, %v", shrunk, at, got, ok)
			}
		}
		for _, at := range [][2]float64{{-0.6, 3}, {30, 3}, {3, 20}, {math.NaN(), 1}} {
			if _, ok := s.At(at[0], at[1]); ok {
				t.Errorf("the plane reaches to %v", at)
			}
		}
	}
}

func BenchmarkSampler(b *testing.B) {
	p := wave(1000, 1000, 30)
	s := NewSampler(p, 1)
	n := 0
	for b.Loop() {
		for x := range 1000 {
			s.At(float64(x)*0.7+100, float64(n%700)*0.7+100)
		}
		n++
	}
	b.ReportMetric(float64(n)/1000/b.Elapsed().Seconds(), "MP/s")
}

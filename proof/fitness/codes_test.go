package fitness

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/plane"
)

// spread is a plane whose codes fill a range evenly by a wave and noise, as code
// 0 … 1 through f.
func spread(w, h int, f func(v float64) uint16) *plane.Plane {
	rnd := rand.New(rand.NewPCG(1, 2))
	p := plane.New(w, h)
	for i := range p.Pix {
		v := 0.5 + 0.35*math.Sin(float64(i%w)/37)*math.Cos(float64(i/w)/29) + 0.02*rnd.NormFloat64()
		p.Pix[i] = f(min(max(v, 0), 1))
	}
	return p
}

func rounded(v float64, steps float64) uint16 {
	return uint16(math.Round(math.Round(v*steps) / steps * 65535))
}

func TestCodesOf(t *testing.T) {
	whole := [4]int{0, 0, 600, 400}
	of := func(f func(v float64) uint16) Codes { return CodesOf(spread(600, 400, f), whole) }

	if c := of(func(v float64) uint16 { return uint16(65535 * v) }); c.Levels < 20000 || c.Unit != 1 || c.Gaps > 0 || c.Spikes > 0.02 || c.Lowest > 0.2 || c.Highest < 0.8 {
		t.Errorf("16 bits in full: %+v", c)
	}
	if c := of(func(v float64) uint16 { return 257 * uint16(255*v) }); c.Levels > 256 || c.Levels < 150 || c.Unit != 257 || c.Gaps > 0 {
		t.Errorf("8 bits: %+v", c)
	}
	if c := of(func(v float64) uint16 { return rounded(v, 15) }); c.Levels > 16 {
		t.Errorf("16 greys: %+v", c)
	}
	// 8 bits stretched to 1.3 of their contrast: every fourth step or so stays empty.
	if c := of(func(v float64) uint16 { return 257 * uint16(math.Round(1.3*math.Round(255*(0.15+0.6*v))-40)) }); c.Gaps < 0.15 || c.Gaps > 0.3 {
		t.Errorf("stretched: %+v", c)
	}
	// Pressed to 0.8: every fifth step gets two.
	if c := of(func(v float64) uint16 { return 257 * uint16(math.Round(0.8*math.Round(255*v))) }); c.Spikes < 0.1 || c.Spikes > 0.3 || c.Gaps > 0 {
		t.Errorf("pressed: %+v", c)
	}
}

func TestStreaksOf(t *testing.T) {
	scene := func() *plane.Plane {
		return spread(600, 400, func(v float64) uint16 { return uint16(65535 * (0.1 + 0.3*v)) })
	}
	whole := [4]int{0, 0, 600, 400}
	if s := StreaksOf(scene(), whole); s.Down+s.Across != 0 {
		t.Errorf("a clean scan: %+v", s)
	}
	p := scene()
	line := func(x, from, to int, density float64) {
		for y := from; y < to; y++ {
			p.Pix[y*p.W+x] = uint16(float64(p.Pix[y*p.W+x]) + density/densityOfCode)
		}
	}
	line(100, 0, 400, 0.08)
	line(350, 0, 400, -0.12)
	line(351, 0, 400, -0.12)
	line(500, 0, 200, 0.5) // a fibre, not a streak
	for x := range 600 {
		p.Pix[200*600+x] += 1638 // 0.1 in density
	}
	s := StreaksOf(p, whole)
	if s.Down != 2 || s.Across != 1 || math.Abs(s.Density-0.12) > 0.02 {
		t.Errorf("%+v, want two down and one across", s)
	}
}

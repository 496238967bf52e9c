package plane

import (
	"math"
	"slices"
	"testing"
)

func ramp(w, h int) *Plane {
	p := New(w, h)
	for y := range h {
		for x := range w {
			p.Pix[y*w+x] = uint16(100*x + 1000*y)
		}
	}
	return p
}

func TestBilinearIsExactOnARamp(t *testing.T) {
	p := ramp(7, 5)
	for _, at := range [][2]float64{{0, 0}, {3, 2}, {2.25, 1.5}, {6, 4}, {5.5, 3.75}} {
		want := 100*at[0] + 1000*at[1]
		if got := p.Bilinear(at[0], at[1]); math.Abs(got-want) > 1e-9 {
			t.Errorf("at %v: %g, want %g", at, got, want)
		}
	}
	if got := p.Bilinear(-3, 99); got != 4000 {
		t.Errorf("outside: %g, want the corner's 4000", got)
	}
}

func TestHalfKeepsPositions(t *testing.T) {
	for _, size := range [][2]int{{8, 6}, {9, 7}, {1, 4}, {2, 1}} {
		p := ramp(size[0], size[1])
		h := p.Half()
		if h.W != (p.W+1)/2 || h.H != (p.H+1)/2 {
			t.Fatalf("%v: half is %d × %d", size, h.W, h.H)
		}
		for y := range p.H / 2 {
			for x := range p.W / 2 {
				want := p.Bilinear(2*float64(x)+0.5, 2*float64(y)+0.5)
				if got := float64(h.At(x, y)); math.Abs(got-want) > 0.5 {
					t.Errorf("%v at %d,%d: %g, want %g", size, x, y, got, want)
				}
			}
		}
	}
}

func TestPyramidEndsAtTheSide(t *testing.T) {
	levels := ramp(100, 30).Pyramid(16)
	last := levels[len(levels)-1]
	if last.W > 16 || levels[len(levels)-2].W <= 16 {
		t.Errorf("last level %d wide after %d", last.W, levels[len(levels)-2].W)
	}
}

func TestCrop(t *testing.T) {
	c := ramp(7, 5).Crop(2, 1, 3, 4)
	if c.At(0, 0) != 1200 || c.At(2, 3) != 4400 {
		t.Errorf("corners %d, %d", c.At(0, 0), c.At(2, 3))
	}
}

// A half that a plane was told of is the one that its pyramid is made of; one of another size is
// refused.
func TestHalved(t *testing.T) {
	p := New(41, 30)
	for i := range p.Pix {
		p.Pix[i] = uint16(i * 37)
	}
	made := p.Pyramid(5)
	p.Halved(made[1])
	told := p.Pyramid(5)
	if told[1] != made[1] || len(told) != len(made) {
		t.Fatalf("the half is made anew, or the pyramid has %d levels of %d", len(told), len(made))
	}
	for l := range made {
		if !slices.Equal(told[l].Pix, made[l].Pix) {
			t.Errorf("level %d differs", l)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("a half of another size is taken")
		}
	}()
	p.Halved(New(20, 15))
}

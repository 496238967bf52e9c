package light

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/overlay"
	"threeply/proof/plane"
	"threeply/proof/tone"
)

// developed makes plates of a scene whose exposures are given, and which was
// lit by l: base 0.3, γ 0.8, straight.
func developed(w, h int, l Light, scene func(x, y int) [3]float64) (*overlay.Plates, [3]tone.Film) {
	p := &overlay.Plates{Key: 1, Ways: [3]overlay.Way{affine.Identity.Apply, affine.Identity.Apply, affine.Identity.Apply}}
	var films [3]tone.Film
	for i := range p.Planes {
		q := plane.New(w, h)
		for y := range h {
			for x := range w {
				q.Pix[y*w+x] = density.Code(0.3 + 0.8*(math.Log10(scene(x, y)[i]*l[i])+1.6))
			}
		}
		p.Planes[i] = q
		films[i] = tone.Film{Negative: true, White: 1.58, Black: 0.3, Gamma: 0.8}
	}
	return p, films
}

// A scene of greys in a warm light: all assumptions find the light, and the
// balanced films read each grey alike.
func TestGreySceneInAWarmLight(t *testing.T) {
	want := Light{1.5, 1, 0.6}
	p, films := developed(700, 500, want, func(x, y int) [3]float64 {
		g := 0.05 + 0.9*math.Abs(math.Sin(float64(x/70)*1.7+float64(y/50)))
		return [3]float64{g, g, g}
	})
	c := Compare(Gather(p, films, [3]float64{-1, -1, -1}))
	for _, e := range c.Estimates {
		if !e.Known || math.Abs(e.Stops[0]-math.Log2(1.5)) > 0.02 || math.Abs(e.Stops[2]-math.Log2(0.6)) > 0.02 {
			t.Errorf("%s: %v stops, want %v", e.ID, e.Stops, want.Stops())
		}
	}
	if c.Apart > 0.03 || c.Unknown() {
		t.Errorf("%.3f stops apart: %s", c.Apart, c.Words)
	}
	l, _ := c.Of(Default)
	balanced := Balance(films, l)
	for _, at := range [][2]float64{{20, 20}, {300, 222}, {650, 430}} {
		var h [3]float64
		for i, f := range balanced {
			d, _ := p.Density(i, at[0], at[1])
			h[i] = f.LogExposure(d)
		}
		if math.Abs(h[0]-h[1]) > 0.01 || math.Abs(h[2]-h[1]) > 0.01 {
			t.Errorf("the grey at %v reads %v", at, h)
		}
	}
	for i, f := range balanced {
		if math.Abs(f.Range()-films[i].Range()) > 1e-9 {
			t.Errorf("plate %d: the range went from %.3f to %.3f", i, films[i].Range(), f.Range())
		}
	}
}

// Borders, clipped light and blank film are left out.
func TestGatherLeavesOutWhatSaysNothing(t *testing.T) {
	p, films := developed(200, 160, Light{1, 1, 1}, func(x, y int) [3]float64 { return [3]float64{0.5, 0.5, 0.5} })
	p.Areas = [3][4]int{{10, 10, 190, 150}, {20, 10, 190, 150}, {10, 10, 190, 140}}
	p.Planes[0].Pix[50*200+50] = 0                  // clear
	p.Planes[1].Pix[60*200+60] = 65535              // black
	p.Planes[2].Pix[70*200+70] = density.Code(0.31) // blank
	g := Gather(p, films, [3]float64{0.3, 0.3, 0.3})
	used := 0
	for _, u := range g.Use {
		if u {
			used++
		}
	}
	if want := 170*130 - 3; used != want {
		t.Errorf("%d points used, want %d", used, want)
	}
	for _, at := range []int{50*200 + 50, 60*200 + 60, 70*200 + 70, 15*200 + 15, 145*200 + 100} {
		if g.Use[at] {
			t.Errorf("point %d is used", at)
		}
	}
}

// A scene of one colour contradicts itself, and is said to be unknown.
func TestOneColourIsUnknown(t *testing.T) {
	p, films := developed(320, 240, Light{1, 1, 1}, func(x, y int) [3]float64 {
		g := 0.1 + 0.4*math.Abs(math.Sin(float64(x)/9+float64(y)/13))
		if x < 12 && y < 12 {
			return [3]float64{0.9, 0.9, 0.9}
		}
		return [3]float64{0.9 * g, 0.3 * g, 0.1 * g}
	})
	if c := Compare(Gather(p, films, [3]float64{-1, -1, -1})); !c.Unknown() {
		t.Errorf("%.2f stops apart: %s", c.Apart, c.Words)
	}
	if c := Compare(&Picture{}); !c.Unknown() || !math.IsInf(c.Apart, 1) {
		t.Errorf("of nothing: %+v", c)
	}
}

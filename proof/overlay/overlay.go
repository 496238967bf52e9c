// Package overlay lays the three plates of a set over each other: what each
// holds at a pixel of the key, through the map that register gave it.
//
// Plates are in the order of filter.All, red, green and blue; places are
// pixels of the key, centres at whole numbers.
package overlay

import (
	"threeply/proof/density"
	"threeply/proof/plane"
)

// Plates are three density planes in register.
type Plates struct {
	Planes [3]*plane.Plane
	Areas  [3][4]int // the picture within its borders on each plane: x0, y0, x1, y1, the last two outside; zero for all of it
	Ways   [3]Way    // from a pixel of the key to one of each plane
	Key    int       // index of the key
}

// Way takes a pixel of the key to one of a plane.
type Way func(x, y float64) (u, v float64)

// Size is the key's width and height in pixels.
func (p *Plates) Size() (w, h int) { return p.Planes[p.Key].W, p.Planes[p.Key].H }

// Density returns the density of plate i behind pixel (x, y) of the key; ok is
// false beyond the edge of its plane.
func (p *Plates) Density(i int, x, y float64) (d float64, ok bool) {
	u, v := p.Ways[i](x, y)
	q := p.Planes[i]
	if !(u > -0.5 && v > -0.5 && u < float64(q.W)-0.5 && v < float64(q.H)-0.5) {
		return 0, false
	}
	return q.Bilinear(u, v) * (density.Max / 65535), true
}

// InPicture says whether pixel (x, y) of the key lies within the picture of
// all three plates.
func (p *Plates) InPicture(x, y float64) bool {
	for i, way := range p.Ways {
		a := p.Areas[i]
		if a[2] <= a[0] || a[3] <= a[1] {
			a = [4]int{0, 0, p.Planes[i].W, p.Planes[i].H}
		}
		u, v := way(x, y)
		if !(u > float64(a[0])-0.5 && v > float64(a[1])-0.5 && u < float64(a[2])-0.5 && v < float64(a[3])-0.5) {
			return false
		}
	}
	return true
}

// Reduced returns the same plates at level l of their pyramids, each half the
// size of the one before, and the size of one of its pixels in pixels of p.
// Places are pixels of the reduced key.
func (p *Plates) Reduced(l int) (*Plates, float64) {
	planes := p.Planes
	for i := range planes {
		for range l {
			planes[i] = planes[i].Half()
		}
	}
	return p.With(planes, l), Scale(l)
}

// Scale is the size of a pixel at level l of a pyramid, in pixels of level 0.
func Scale(l int) float64 { return float64(int(1) << l) }

// With returns the same plates at level l of their pyramids, which planes are
// already. Places are pixels of the reduced key.
func (p *Plates) With(planes [3]*plane.Plane, l int) *Plates {
	out := &Plates{Planes: planes, Key: p.Key}
	scale := Scale(l)
	for i := range planes {
		for j, v := range p.Areas[i] {
			out.Areas[i][j] = v >> l
		}
		out.Ways[i] = func(x, y float64) (u, v float64) {
			u, v = p.Ways[i]((x+0.5)*scale-0.5, (y+0.5)*scale-0.5)
			return (u+0.5)/scale - 0.5, (v+0.5)/scale - 0.5
		}
	}
	return out
}

// Package plane holds single-channel 16-bit pictures.
//
// Conventions, used throughout the module: row-major, first row on top, pixel
// centres at whole numbers, so the picture spans -0.5 to W-0.5 across and
// -0.5 to H-0.5 down.
package plane

import "fmt"

// Plane is a single-channel picture of W·H codes; what a code means (transmittance,
// density) is said by whoever made the plane. Pix holds them row by row, from row From on:
// the whole plane from row 0, or so many of its rows as a part of a picture is drawn from.
type Plane struct {
	W, H int
	Pix  []uint16
	From int

	half *Plane // at half its size, where that is known
	far  *far   // of a plane that lies elsewhere; Pix is nil then
}

// New returns a plane of zeros. It panics when w or h is not positive.
func New(w, h int) *Plane {
	if w <= 0 || h <= 0 {
		panic(fmt.Sprintf("plane: size %d × %d", w, h))
	}
	return &Plane{W: w, H: h, Pix: make([]uint16, w*h)}
}

// At returns the code at column x, row y; it panics outside what Pix holds.
func (p *Plane) At(x, y int) uint16 { return p.Pix[(y-p.From)*p.W+x] }

// Row returns row y, shared with the plane; it panics outside what Pix holds.
func (p *Plane) Row(y int) []uint16 { return p.Pix[(y-p.From)*p.W : (y-p.From+1)*p.W] }

// Crop copies the part of the plane with its first pixel at (x, y). It panics
// when the part reaches outside.
func (p *Plane) Crop(x, y, w, h int) *Plane {
	c := New(w, h)
	for j := range h {
		copy(c.Row(j), p.Row(y + j)[x:x+w])
	}
	return c
}

// Bilinear returns the code at (x, y), interpolated between the four nearest
// pixels; positions outside take the nearest pixel of the edge.
func (p *Plane) Bilinear(x, y float64) float64 {
	x, y = within(x, float64(p.W-1)), within(y, float64(p.H-1))
	x0, y0 := int(x), int(y)
	x1, y1 := min(x0+1, p.W-1), min(y0+1, p.H-1)
	fx, fy := x-float64(x0), y-float64(y0)
	if p.far != nil {
		var room []uint16
		near := p.Window(Box{x0, y0, x1 + 1, y1 + 1}, &room)
		at := func(x, y int) float64 { return float64(near.Pix[y*near.Stride+x-near.Base]) }
		return (at(x0, y0)*(1-fx)+at(x1, y0)*fx)*(1-fy) + (at(x0, y1)*(1-fx)+at(x1, y1)*fx)*fy
	}
	a := float64(p.At(x0, y0))*(1-fx) + float64(p.At(x1, y0))*fx
	b := float64(p.At(x0, y1))*(1-fx) + float64(p.At(x1, y1))*fx
	return a*(1-fy) + b*fy
}

// within is x, or the nearest end of 0 … most. It is written out, since WebAssembly calls a
// function for min and max of fractions.
func within(x, most float64) float64 {
	switch {
	case x > most:
		return most
	case x > 0:
		return x
	}
	return 0
}

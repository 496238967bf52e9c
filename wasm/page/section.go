//go:build js

package main

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/render"
	"threeply/proof/stack"
)

// section is the cut through the print along the session's line.
type section struct {
	um    [3][]float32 // dry height of each printer's layer at n equal steps
	maxUm float64      // highest relief of the whole stack on the line
	long  float64      // the line on the print, mm
}

// full is the whole picture at the key's own pixels.
func (a *app) full() *render.Picture {
	return picture.Assemble(&a.State, a.printing, a.curves, a.level(0), affine.Identity, 0)
}

// cut computes the section at n places. Thickness is read from the untouched
// scans through the same curves as the print.
func (a *app) cut(n int) section {
	var s section
	for i := range s.um {
		s.um[i] = make([]float32, n)
	}
	if !a.has() || n < 2 {
		return s
	}
	pic := a.full()
	w, h := a.Frame()
	line := a.Section
	x0, y0 := line.X0*float64(w-1), line.Y0*float64(h-1)
	x1, y1 := line.X1*float64(w-1), line.Y1*float64(h-1)
	s.long = math.Hypot(x1-x0, y1-y0) * a.PixelMicrons() / 1000
	for j := range n {
		f := float64(j) / float64(n-1)
		um := a.heights(pic, x0+(x1-x0)*f, y0+(y1-y0)*f)
		sum := 0.0
		for i, v := range um {
			s.um[i][j] = float32(v)
			sum += v
		}
		s.maxUm = max(s.maxUm, sum)
	}
	return s
}

// thickness returns the relative thickness of each layer at a key pixel.
func thickness(pic *render.Picture, x, y float64) [3]float64 {
	var t [3]float64
	for i, q := range pic.Coordinates(x, y) {
		t[i] = cube.Thickness(float64(q))
	}
	return t
}

// heights returns the dry height of each layer at a key pixel, in µm.
func (a *app) heights(pic *render.Picture, x, y float64) [3]float64 {
	t := thickness(pic, x, y)
	for i := range t {
		t[i] *= a.printing.Recipe.Palette.Layer(pigment.Printer(i)).CoatMicron
	}
	return t
}

// swatch is the colour of one layer alone at full coated strength on the
// paper, or of the bare paper for a negative printer.
func swatch(p *picture.Printing, r stack.Recipe, printer int) string {
	var t [3]float64
	if printer >= 0 {
		t[printer] = 1
	}
	return hex(r.Reflectance(t), p.Light)
}

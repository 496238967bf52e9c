// Package render looks a picture up: three density planes through three affine
// maps, their curves and the table of a recipe. At defines what is shown; Image
// computes the same for whole pictures, faster, and the screen's shader is held to it
// by test.
package render

import (
	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/filter"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/tone"
)

// Layer is what one plate brings to the picture.
type Layer struct {
	Plane     *plane.Plane // density codes
	Laid      Way          // of the print: where the layer comes to lie on it
	Scanned   Way          // of the reference: where register finds the plate
	Print     *tone.Curve  // density code → cube coordinate of the thickness
	Reference *tone.Curve  // density code → sRGB-encoded exposure
	Tone      *tone.Curve  // density code → tone, for a masked print
	Thickness *tone.Curve  // masked tone · 65535 → cube coordinate, for a masked print
	Hidden    bool         // the layer is left out of the print
}

// Way takes a pixel of the picture to one of the plane.
type Way struct {
	Matrix affine.Matrix
	Warp   *Warp // nil, or what comes before Matrix
}

// Warp is a way to the plane that is not affine: the pixel of the picture goes
// by ToKey to k, and Matrix takes k + Shift.At(k) to the plane.
type Warp struct {
	ToKey affine.Matrix
	Shift interface {
		At(x, y float64) (dx, dy float64)
	}
}

// Apply returns the plane's pixel.
func (w *Way) Apply(x, y float64) (u, v float64) {
	if w.Warp != nil {
		x, y = w.Warp.ToKey.Apply(x, y)
		dx, dy := w.Warp.Shift.At(x, y)
		x, y = x+dx, y+dy
	}
	return w.Matrix.Apply(x, y)
}

// read returns the interpolated density code behind a pixel of the picture and
// how far the plane covers it.
func (l *Layer) read(by *Way, x, y float64) (code, cover float32) {
	u, v := by.Apply(x, y)
	return sample(l.Plane, u, v)
}

// Picture is all that the look-up needs. Layers are indexed by printer
// (pigment.Yellow, Magenta, Cyan). Table is what Decode makes of a cube's
// Encoded, with N nodes an axis. Masks, where not nil, takes the tones of the
// three plates, by printer and row by row, to those that are printed. Show, where not nil, takes the
// reference to the space that Table is coded in.
type Picture struct {
	Layers [3]Layer
	Table  []float32
	N      int
	Masks  *[9]float32
	Show   func(RGB) RGB
}

// Kind is which picture of the three plates is rendered.
type Kind int

// Reference adds the plates as light: red, green and blue plate in the three channels.
// Print is the stack of the three layers on the paper.
const (
	Reference Kind = iota
	Print
)

// RGB is a colour encoded by the curve of sRGB, 0 … 1: one of sRGB itself, or of
// the space that Picture.Show goes to.
type RGB [3]float32

// Decode undoes the coding v = code/65535·2 - 0.5 that EncodedIn states, once
// for all pixels.
func Decode(table []uint16) []float32 {
	out := make([]float32, len(table))
	for i, code := range table {
		out[i] = float32(code)*(cube.EncodedSpan/65535.0) + cube.EncodedMin
	}
	return out
}

// sample returns the interpolated density code at (x, y) and how far the plane
// covers that place: 1 on it, 0 from a pixel beyond its last pixel centres on,
// linear between, so that a rounding error never turns a pixel on or off.
func sample(p *plane.Plane, x, y float64) (code, cover float32) {
	w, h := float64(p.W-1), float64(p.H-1)
	if x >= 0 && y >= 0 && x < w && y < h { // well inside: nearly every pixel
		x0, y0 := int(x), int(y)
		o := (y0-p.From)*p.W + x0
		r0, r1 := p.Pix[o:o+2:o+2], p.Pix[o+p.W:o+p.W+2:o+p.W+2]
		fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
		a := float32(r0[0]) + (float32(r0[1])-float32(r0[0]))*fx
		b := float32(r1[0]) + (float32(r1[1])-float32(r1[0]))*fx
		return a + (b-a)*fy, 1
	}
	cover = float32(min(max(min(min(x+1, w+1-x), min(y+1, h+1-y)), 0), 1))
	if !(cover > 0) { // a place that is no number too
		return 0, 0
	}
	x, y = min(max(x, 0), w), min(max(y, 0), h)
	x0, y0 := int(x), int(y)
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	x1, y1 := min(x0+1, p.W-1), min(y0+1, p.H-1)
	r0, r1 := p.Row(y0), p.Row(y1)
	a := float32(r0[x0]) + (float32(r0[x1])-float32(r0[x0]))*fx
	b := float32(r1[x0]) + (float32(r1[x1])-float32(r1[x0]))*fx
	return a + (b-a)*fy, cover
}

// along reads a curve at a density code; the result is in 0 … 1.
func along(c *tone.Curve, code float32) float32 {
	x := code * (tone.Knots / 65535.0)
	i := min(int(x), tone.Knots-1)
	a, b := float32(c[i]), float32(c[i+1])
	return (a + (b-a)*(x-float32(i))) * (1.0 / 65535)
}

// At returns the colour at pixel (x, y) of the picture of that kind. Where a
// plate does not reach, its layer is absent from the print and its light from
// the reference.
func (p *Picture) At(kind Kind, x, y float64) RGB {
	if kind == Reference {
		var out RGB
		for i := range p.Layers {
			l := &p.Layers[i]
			code, cover := l.read(&l.Scanned, x, y)
			out[channel(i)] = along(l.Reference, code) * cover
		}
		if p.Show != nil {
			return p.Show(out)
		}
		return out
	}
	return p.lookUp(p.Coordinates(x, y))
}

// channel is the colour channel of the plate behind printer i: the yellow
// printer comes from the blue plate, and so on.
func channel(i int) int { return int(filter.Of(pigment.Printer(i))) }

// Coordinates returns the cube coordinates (0 … 1) of the three thicknesses at
// pixel (x, y), by printer.
func (p *Picture) Coordinates(x, y float64) [3]float32 {
	if p.Masks != nil {
		return p.masked(x, y)
	}
	var q [3]float32
	for i := range p.Layers {
		l := &p.Layers[i]
		if l.Hidden {
			continue
		}
		code, cover := l.read(&l.Laid, x, y)
		q[i] = along(l.Print, code) * cover
	}
	return q
}

// masked is Coordinates behind masks: a hidden layer is left out of the print,
// but its plate still masks the others.
func (p *Picture) masked(x, y float64) [3]float32 {
	var u, q [3]float32
	for i := range p.Layers {
		l := &p.Layers[i]
		code, cover := l.read(&l.Laid, x, y)
		u[i] = along(l.Tone, code) * cover
	}
	for i := range p.Layers {
		if l := &p.Layers[i]; !l.Hidden {
			q[i] = along(l.Thickness, 65535*p.behind(i, u))
		}
	}
	return q
}

// behind is the tone of a layer behind its masks, from the tones of the three plates.
func (p *Picture) behind(i int, u [3]float32) float32 {
	m := p.Masks
	return min(max(m[3*i]*u[0]+m[3*i+1]*u[1]+m[3*i+2]*u[2], 0), 1)
}

// Masked is the tone, 0 for the paper to 1 for the depth, of the layer of printer i behind
// its masks at pixel (x, y), with the plates in register, whatever the offsets of the
// layers. Only for pictures with Masks.
func (p *Picture) Masked(i pigment.Printer, x, y float64) float64 {
	var u [3]float32
	for k := range p.Layers {
		l := &p.Layers[k]
		code, cover := l.read(&l.Scanned, x, y)
		u[k] = along(l.Tone, code) * cover
	}
	return float64(p.behind(int(i), u))
}

// Unbounded is the print at pixel (x, y) without holding its channels to 0 … 1: the
// colour itself where Table holds what no display shows.
func (p *Picture) Unbounded(x, y float64) RGB { return p.between(p.Coordinates(x, y)) }

// lookUp reads the table at cube coordinates.
func (p *Picture) lookUp(q [3]float32) RGB {
	c := p.between(q)
	for i, v := range c {
		c[i] = min(max(v, 0), 1)
	}
	return c
}

// between reads the table by tetrahedral interpolation: of the cell's eight nodes only
// the four on the way from its low to its high corner, largest fraction first.
func (p *Picture) between(q [3]float32) RGB {
	n := p.N
	top := float32(n - 1)
	y, m, c := q[pigment.Yellow]*top, q[pigment.Magenta]*top, q[pigment.Cyan]*top
	iy, im, ic := min(int(y), n-2), min(int(m), n-2), min(int(c), n-2)
	fy, fm, fc := y-float32(iy), m-float32(im), c-float32(ic)
	sy, sm, sc := 3, 3*n, 3*n*n
	base := ic*sc + im*sm + iy*sy
	var hi, mid, lo float32
	var s1, s2 int
	switch {
	case fy >= fm && fm >= fc:
		hi, mid, lo, s1, s2 = fy, fm, fc, sy, sy+sm
	case fy >= fc && fc >= fm:
		hi, mid, lo, s1, s2 = fy, fc, fm, sy, sy+sc
	case fc >= fy && fy >= fm:
		hi, mid, lo, s1, s2 = fc, fy, fm, sc, sc+sy
	case fm >= fy && fy >= fc:
		hi, mid, lo, s1, s2 = fm, fy, fc, sm, sm+sy
	case fm >= fc && fc >= fy:
		hi, mid, lo, s1, s2 = fm, fc, fy, sm, sm+sc
	default:
		hi, mid, lo, s1, s2 = fc, fm, fy, sc, sc+sm
	}
	w0, w1, w2, w3 := 1-hi, hi-mid, mid-lo, lo
	t0 := p.Table[base : base+3 : base+3]
	t1 := p.Table[base+s1 : base+s1+3 : base+s1+3]
	t2 := p.Table[base+s2 : base+s2+3 : base+s2+3]
	end := base + sy + sm + sc
	t3 := p.Table[end : end+3 : end+3]
	mix := func(i int) float32 { return w0*t0[i] + w1*t1[i] + w2*t2[i] + w3*t3[i] }
	return RGB{mix(0), mix(1), mix(2)}
}

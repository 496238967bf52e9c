package register

import (
	"math"
	"slices"

	"threeply/proof/plane"
)

// tones is a small picture of the values of a toneTable, with the same pixel convention as
// plane.Plane.
type tones struct {
	w, h int
	v    []float32
}

func newTones(w, h int) tones { return tones{w, h, make([]float32, w*h)} }

// room is memory that pictures are drawn in, and their edges, one after the other.
type room struct {
	tones, spare []float32
	field        []complex64
	codes        []uint16
}

// picture is room for w × h tones, of any value.
func (r *room) picture(w, h int) tones {
	r.tones = slices.Grow(r.tones[:0], w*h)[:w*h]
	return tones{w, h, r.tones}
}

// edgeField is a picture of vectors of two, each kept as a complex number; see edges.
type edgeField struct {
	w, h int
	v    []complex64
}

// veil is the light that is added before the logarithm, as a share of the
// scene's white. It keeps the noise of the dark end, where one step of the scan
// is a large step of density, from passing for detail.
const veil = 0.03

// toneTable tabulates the tones that edges are taken from, for every 64th density
// code: ln(L + veil), where L is the scene's light by a plate of contrast 1,
//
//	L = 10^-(D - white), of a positive; L = 10^(D - white), of a negative,
//
// and white the density of the scene's white. An edge that is blurred lies where the
// light is halfway; taken so it lies at the same place in a negative and in a
// positive.
type toneTable [1025]float32

func newToneTable(negative bool, white float64) *toneTable {
	t := &toneTable{}
	for i := range t {
		d := 4*float64(i)*64/65535 - white
		if !negative {
			d = -d
		}
		t[i] = float32(math.Log(math.Pow(10, min(d, 0.3)) + veil))
	}
	return t
}

// newLightTable tabulates the light L of the scene, see newToneTable, by a plate of a
// contrast, as a share of the scene's white.
func newLightTable(negative bool, white, contrast float64) *toneTable {
	t := &toneTable{}
	for i := range t {
		d := 4*float64(i)*64/65535 - white
		if !negative {
			d = -d
		}
		t[i] = float32(math.Pow(10, min(d/contrast, 0.3)))
	}
	return t
}

// at is the tone of a density code, 0 to 65535.
func (t *toneTable) at(code float32) float32 {
	i := int(code) >> 6 & 1023
	f := (code - float32(i<<6)) / 64
	return t[i] + f*(t[i+1]-t[i])
}

// cutTones takes w × h pixels of p from (x0, y0) on through the tone table;
// positions outside take the nearest pixel.
func cutTones(p *plane.Plane, table *toneTable, x0, y0, w, h int) tones {
	out := newTones(w, h)
	var room []uint16
	part := p.Window(plane.Box{X0: x0, Y0: y0, X1: x0 + w, Y1: y0 + h}, &room)
	for y := range h {
		o := min(max(y0+y, 0), p.H-1)*part.Stride - part.Base
		for x := range w {
			out.v[y*w+x] = table.at(float32(part.Pix[o+min(max(x0+x, 0), p.W-1)]))
		}
	}
	return out
}

// blur smooths pic in place with the binomial 1 4 6 4 1, σ = 1 pixel, across and
// down.
func blur(r *room, pic tones) {
	w, h := pic.w, pic.h
	if w < 3 || h < 3 {
		return
	}
	r.spare = slices.Grow(r.spare[:0], 2*w+4)[:2*w+4]
	line := r.spare[:w+4]
	for y := range h {
		row := pic.v[y*w : (y+1)*w]
		copy(line[2:], row)
		line[0], line[1] = row[0], row[0]
		line[w+2], line[w+3] = row[w-1], row[w-1]
		for i := range row {
			l := line[i : i+5 : i+5]
			row[i] = (l[0] + l[4] + 4*(l[1]+l[3]) + 6*l[2]) / 16
		}
	}
	// Down, row by row: of the rows above, what they held before.
	above2, above := r.spare[:w], r.spare[w:2*w]
	copy(above2, pic.v)
	copy(above, pic.v)
	for y := range h {
		at := func(y int) []float32 { return pic.v[min(y, h-1)*w:][:w] }
		row, below, below2 := at(y), at(y+1), at(y+2)
		above2, above := above2[:len(row)], above[:len(row)]
		below, below2 = below[:len(row)], below2[:len(row)]
		for x, v := range row {
			b, b2 := below[x], below2[x]
			a2, a := above2[x], above[x]
			above2[x], above[x] = a, v
			row[x] = (a2 + b2 + 4*(a+b) + 6*v) / 16
		}
	}
}

// edges turns a picture into its double-angle edge field
//
//	q = (gx + i·gy)² / (|g| + c),
//
// whose length follows the gradient and whose angle is twice the gradient's.
// So an edge that is light-dark in one plate and dark-light in another gives
// the same vector. c is the mean gradient length: what is weaker is held down
// as noise. The outermost pixels are zero.
func edges(pic tones) edgeField { return edgesOf(&room{}, pic, false) }

// edgesOf is edges in r, of a picture of tones or of light: its edges are then those of
// the tones ln(L + veil).
func edgesOf(r *room, pic tones, light bool) edgeField {
	w, h := pic.w, pic.h
	r.field = slices.Grow(r.field[:0], w*h)[:w*h]
	q := edgeField{w, h, r.field}
	if w < 3 || h < 3 {
		clear(q.v)
		return q
	}
	clear(q.v[:w])
	clear(q.v[(h-1)*w:])
	for y := 1; y < h-1; y++ {
		q.v[y*w], q.v[(y+1)*w-1] = 0, 0
	}
	r.spare = slices.Grow(r.spare[:0], w*h)[:w*h]
	var sum float64
	for y := 1; y < h-1; y++ {
		at := pic.v[y*w : (y+1)*w]
		up, down := pic.v[(y-1)*w:][:len(at)], pic.v[(y+1)*w:][:len(at)]
		field, lengths := q.v[y*w:][:len(at)], r.spare[y*w:][:len(at)]
		var part float32
		for x := 1; x < len(at)-1; x++ {
			gx, gy := at[x+1]-at[x-1], down[x]-up[x]
			if light { // d ln(L + veil) = dL / (L + veil)
				k := 1 / (at[x] + veil)
				gx, gy = gx*k, gy*k
			}
			length := float32(math.Sqrt(float64(gx*gx + gy*gy)))
			field[x], lengths[x] = complex(gx, gy), length
			part += length
		}
		sum += float64(part)
	}
	c := float32(sum/float64((w-2)*(h-2))) + 1e-6
	for y := 1; y < h-1; y++ {
		field := q.v[y*w : (y+1)*w-1]
		lengths := r.spare[y*w:][:len(field)]
		for x := 1; x < len(field); x++ {
			gx, gy, s := real(field[x]), imag(field[x]), 1/(lengths[x]+c)
			field[x] = complex((gx*gx-gy*gy)*s, 2*gx*gy*s)
		}
	}
	return q
}

// even divides q by its root mean square over a window of 2r+1 pixels, so that
// a faint part of the picture counts as much as a strong one; what is below a
// fifth of the whole picture's mean stays faint.
func even(q edgeField, r int) {
	w, h := q.w, q.h
	sum := make([]float64, (w+1)*(h+1))
	for y := range h {
		var row float64
		for x := range w {
			v := q.v[y*w+x]
			row += float64(real(v)*real(v) + imag(v)*imag(v))
			sum[(y+1)*(w+1)+x+1] = sum[y*(w+1)+x+1] + row
		}
	}
	floor := 0.04*sum[len(sum)-1]/float64(w*h) + 1e-12
	for y := range h {
		y0, y1 := max(y-r, 0), min(y+r+1, h)
		for x := range w {
			x0, x1 := max(x-r, 0), min(x+r+1, w)
			e := sum[y1*(w+1)+x1] - sum[y0*(w+1)+x1] - sum[y1*(w+1)+x0] + sum[y0*(w+1)+x0]
			s := float32(1 / math.Sqrt(e/float64((x1-x0)*(y1-y0))+floor))
			q.v[y*w+x] *= complex(s, 0)
		}
	}
}

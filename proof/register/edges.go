package register

import (
	"math"

	"threeply/proof/plane"
)

// tones is a small picture of the values of a toneTable, with the same pixel convention as
// plane.Plane.
type tones struct {
	w, h int
	v    []float32
}

func newTones(w, h int) tones { return tones{w, h, make([]float32, w*h)} }

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
	for y := range h {
		row := p.Row(min(max(y0+y, 0), p.H-1))
		for x := range w {
			out.v[y*w+x] = table.at(float32(row[min(max(x0+x, 0), p.W-1)]))
		}
	}
	return out
}

// blur smooths pic in place with the binomial 1 4 6 4 1, σ = 1 pixel, across and
// down.
func blur(pic tones) {
	w, h := pic.w, pic.h
	if w < 3 || h < 3 {
		return
	}
	line := make([]float32, max(w, h)+4)
	pass := func(n, start, step int) {
		for i := range n {
			line[i+2] = pic.v[start+i*step]
		}
		line[0], line[1] = line[2], line[2]
		line[n+2], line[n+3] = line[n+1], line[n+1]
		for i := range n {
			pic.v[start+i*step] = (line[i] + line[i+4] + 4*(line[i+1]+line[i+3]) + 6*line[i+2]) / 16
		}
	}
	for y := range h {
		pass(w, y*w, 1)
	}
	for x := range w {
		pass(h, x, w)
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
func edges(pic tones) edgeField { return edgesOf(pic, false) }

// edgesOfLight is edges of the tones ln(L + veil) of a picture of light.
func edgesOfLight(light tones) edgeField { return edgesOf(light, true) }

func edgesOf(pic tones, light bool) edgeField {
	w, h := pic.w, pic.h
	q := edgeField{w, h, make([]complex64, w*h)}
	if w < 3 || h < 3 {
		return q
	}
	var sum float64
	for y := 1; y < h-1; y++ {
		up, at, down := pic.v[(y-1)*w:y*w], pic.v[y*w:(y+1)*w], pic.v[(y+1)*w:(y+2)*w]
		var part float32
		for x := 1; x < w-1; x++ {
			gx, gy := at[x+1]-at[x-1], down[x]-up[x]
			if light { // d ln(L + veil) = dL / (L + veil)
				k := 1 / (at[x] + veil)
				gx, gy = gx*k, gy*k
			}
			q.v[y*w+x] = complex(gx, gy)
			part += float32(math.Sqrt(float64(gx*gx + gy*gy)))
		}
		sum += float64(part)
	}
	c := float32(sum/float64((w-2)*(h-2))) + 1e-6
	for i, g := range q.v {
		gx, gy := real(g), imag(g)
		s := 1 / (float32(math.Sqrt(float64(gx*gx+gy*gy))) + c)
		q.v[i] = complex((gx*gx-gy*gy)*s, 2*gx*gy*s)
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

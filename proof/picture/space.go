package picture

import (
	"math"

	"threeply/proof/render"
	"threeply/proof/spectrum"
)

// In returns the printing for a display of another space of the same curve and
// white, such as spectrum.DisplayP3: its table is coded anew, and the reference
// converted on the way.
func (p *Printing) In(space spectrum.RGBSpace) *Printing {
	q := *p
	q.encode(space)
	q.show = converter(between(spectrum.SRGB, space))
	return &q
}

// InSpace encodes a colour that is encoded for sRGB, inside 0 … 1 or beyond, for another
// space of the same curve and white.
func InSpace(c render.RGB, space spectrum.RGBSpace) [3]float64 {
	linear := linearOf(c)
	var out [3]float64
	m := between(spectrum.SRGB, space)
	for i := range out {
		out[i] = spectrum.EncodeSRGB(m[3*i]*linear[0] + m[3*i+1]*linear[1] + m[3*i+2]*linear[2])
	}
	return out
}

// linearOf is the linear light of an encoded colour.
func linearOf(c render.RGB) [3]float64 {
	var linear [3]float64
	for i, v := range c {
		linear[i] = spectrum.DecodeSRGB(float64(v))
	}
	return linear
}

// between is the matrix, row by row, from linear light of one space to that of
// another of the same white.
func between(from, to spectrum.RGBSpace) [9]float64 {
	a, b := from.ToXYZ(), to.FromXYZ(spectrum.DisplayWhite)
	var m [9]float64
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				m[3*i+j] += b[3*i+k] * a[3*k+j]
			}
		}
	}
	return m
}

// converterSteps is how finely converter's curves are tabulated. What lies between is
// read linearly; the test of converter holds the error within 1/65535.
const converterSteps = 4096

// converter takes encoded colours, 0 … 1, through a matrix of linear light to encoded
// ones, 0 … 1, both by the curve of sRGB. It reads the curve from tables, for a picture
// has millions of pixels.
func converter(m [9]float64) func(render.RGB) render.RGB {
	var decode, encode [converterSteps + 2]float32
	for i := range decode {
		u := float64(i) / converterSteps
		decode[i] = float32(spectrum.DecodeSRGB(u))
		encode[i] = float32(spectrum.EncodeSRGB(u * u)) // dense where the curve is steep
	}
	read := func(table *[converterSteps + 2]float32, u float32) float32 {
		x := min(max(u, 0), 1) * converterSteps
		i := int(x)
		return table[i] + (table[i+1]-table[i])*(x-float32(i))
	}
	var k [9]float32
	for i, v := range m {
		k[i] = float32(v)
	}
	return func(c render.RGB) render.RGB {
		r, g, b := read(&decode, c[0]), read(&decode, c[1]), read(&decode, c[2])
		var out render.RGB
		for i := range out {
			v := k[3*i]*r + k[3*i+1]*g + k[3*i+2]*b
			out[i] = min(read(&encode, float32(math.Sqrt(float64(max(v, 0))))), 1)
		}
		return out
	}
}

package scan

import (
	"image"
	"image/color"

	"threeply/proof/plane"
)

// planesOf copies a decoded JPEG into one plane (grey) or three (colour).
func planesOf(img image.Image) ([]*plane.Plane, *Error) {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	switch m := img.(type) {
	case *image.Gray:
		return []*plane.Plane{fromBytes(w, h, m.Pix, m.Stride)}, nil
	case *image.RGBA: // a JPEG of red, green and blue
		p := three(w, h)
		for y := range h {
			row := m.Pix[y*m.Stride:][:4*w]
			for c := range p {
				out := p[c].Row(y)
				for x := range out {
					out[x] = uint16(row[4*x+c]) * 257
				}
			}
		}
		return p, nil
	case *image.YCbCr:
		return fromYCbCr(w, h, m), nil
	}
	return nil, unsupported("Save it as 8- or 16-bit grey or RGB TIFF.", "its pixels are of a kind that is not read (%T)", img)
}

func fromBytes(w, h int, pix []byte, stride int) *plane.Plane {
	p := plane.New(w, h)
	for y := range h {
		out := p.Row(y)
		for x, v := range pix[y*stride:][:w] {
			out[x] = uint16(v) * 257
		}
	}
	return p
}

func three(w, h int) []*plane.Plane {
	return []*plane.Plane{plane.New(w, h), plane.New(w, h), plane.New(w, h)}
}

func fromYCbCr(w, h int, m *image.YCbCr) []*plane.Plane {
	p := three(w, h)
	for y := range h {
		r, g, b := p[0].Row(y), p[1].Row(y), p[2].Row(y)
		for x := range w {
			c := m.COffset(m.Rect.Min.X+x, m.Rect.Min.Y+y)
			r8, g8, b8 := color.YCbCrToRGB(m.Y[y*m.YStride+x], m.Cb[c], m.Cr[c])
			r[x], g[x], b[x] = uint16(r8)*257, uint16(g8)*257, uint16(b8)*257
		}
	}
	return p
}

package scan

import (
	"image"
	"image/color"

	"threeply/proof/plane"
)

const flatten = "Flatten it: save it as plain grey or RGB without transparency."

// planesOf copies a decoded picture into one plane (grey) or three (colour).
// Transparency is allowed only where every pixel is opaque.
func planesOf(img image.Image) ([]*plane.Plane, *Error) {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	switch m := img.(type) {
	case *image.Gray:
		return one(w, h, func(y int, out []uint16) {
			for x, v := range m.Pix[y*m.Stride:][:w] {
				out[x] = uint16(v) * 257
			}
		}), nil
	case *image.Gray16:
		return one(w, h, func(y int, out []uint16) {
			row := m.Pix[y*m.Stride:][:2*w]
			for x := range out {
				out[x] = uint16(row[2*x])<<8 | uint16(row[2*x+1])
			}
		}), nil
	case *image.RGBA:
		return bytesRGBA(w, h, m.Pix, m.Stride)
	case *image.NRGBA:
		return bytesRGBA(w, h, m.Pix, m.Stride)
	case *image.RGBA64:
		return wordsRGBA(w, h, m.Pix, m.Stride)
	case *image.NRGBA64:
		return wordsRGBA(w, h, m.Pix, m.Stride)
	case *image.YCbCr:
		return fromYCbCr(w, h, m), nil
	case *image.Paletted:
		return fromPalette(w, h, m)
	}
	return nil, unsupported("Save it as 8- or 16-bit grey or RGB TIFF.", "its pixels are of a kind that is not read (%T)", img)
}

func one(w, h int, fill func(y int, out []uint16)) []*plane.Plane {
	p := plane.New(w, h)
	for y := range h {
		fill(y, p.Row(y))
	}
	return []*plane.Plane{p}
}

func three(w, h int) []*plane.Plane {
	return []*plane.Plane{plane.New(w, h), plane.New(w, h), plane.New(w, h)}
}

func bytesRGBA(w, h int, pix []byte, stride int) ([]*plane.Plane, *Error) {
	p := three(w, h)
	for y := range h {
		row := pix[y*stride:][:4*w]
		r, g, b := p[0].Row(y), p[1].Row(y), p[2].Row(y)
		opaque := byte(255)
		for x := range w {
			q := row[4*x : 4*x+4 : 4*x+4]
			r[x], g[x], b[x] = uint16(q[0])*257, uint16(q[1])*257, uint16(q[2])*257
			opaque &= q[3]
		}
		if opaque != 255 {
			return nil, unsupported(flatten, "parts of it are transparent")
		}
	}
	return p, nil
}

func wordsRGBA(w, h int, pix []byte, stride int) ([]*plane.Plane, *Error) {
	p := three(w, h)
	for y := range h {
		row := pix[y*stride:][:8*w]
		r, g, b := p[0].Row(y), p[1].Row(y), p[2].Row(y)
		opaque := byte(255)
		for x := range w {
			q := row[8*x : 8*x+8 : 8*x+8]
			r[x] = uint16(q[0])<<8 | uint16(q[1])
			g[x] = uint16(q[2])<<8 | uint16(q[3])
			b[x] = uint16(q[4])<<8 | uint16(q[5])
			opaque &= q[6] & q[7]
		}
		if opaque != 255 {
			return nil, unsupported(flatten, "parts of it are transparent")
		}
	}
	return p, nil
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

// fromPalette expands indexed colour; a palette of greys gives one plane.
func fromPalette(w, h int, m *image.Paletted) ([]*plane.Plane, *Error) {
	grey := true
	var table [256][3]uint16
	for i, c := range m.Palette {
		r, g, b, a := c.RGBA()
		if a != 65535 {
			return nil, unsupported(flatten, "parts of it are transparent")
		}
		table[i&255] = [3]uint16{uint16(r), uint16(g), uint16(b)}
		grey = grey && r == g && g == b
	}
	p := three(w, h)
	if grey {
		p = p[:1]
	}
	for y := range h {
		row := m.Pix[y*m.Stride:][:w]
		for c := range p {
			out := p[c].Row(y)
			for x, i := range row {
				if int(i) >= len(m.Palette) {
					return nil, malformed("a pixel points to colour %d of a palette of %d", i, len(m.Palette))
				}
				out[x] = table[i][c]
			}
		}
	}
	return p, nil
}

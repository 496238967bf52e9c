package review

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
)

// quality of the JPEGs, of 100: high enough for no blocks to be seen; common practice.
const quality = 92

// area is an upright rectangle of the key, in pixels, its edges included.
type area struct{ x0, y0, x1, y1 float64 }

func (a area) w() float64 { return a.x1 - a.x0 + 1 }
func (a area) h() float64 { return a.y1 - a.y0 + 1 }

// around is the area of a size about a place, moved so that it lies in a.
func (a area) around(x, y, w, h float64) area {
	w, h = min(w, a.w()), min(h, a.h())
	x0 := min(max(x-w/2, a.x0), a.x1-w+1)
	y0 := min(max(y-h/2, a.y0), a.y1-h+1)
	return area{x0, y0, x0 + w - 1, y0 + h - 1}
}

// mostPrints bounds the prints that are held ready, each with its table.
const mostPrints = 30

// drawer draws parts of the prints of one set.
type drawer struct {
	planes [3][]*plane.Plane // levels, by source
	whole  area              // what is shown of the picture
	prints map[session.Seen]*print
}

// print is one print that is shown.
type print struct {
	state    session.State
	printing *picture.Printing
	curves   [3]picture.Curves
}

func newDrawer(s *session.State, planes [3]*plane.Plane, withEdges bool) *drawer {
	d := &drawer{prints: map[session.Seen]*print{}}
	for i, p := range planes {
		d.planes[i] = p.Pyramid(picture.ThumbSide)
	}
	w, h := s.Frame()
	d.whole = area{0, 0, float64(w - 1), float64(h - 1)}
	if !withEdges {
		x0, y0, x1, y1 := picture.Overlap(s)
		d.whole = area{math.Ceil(x0), math.Ceil(y0), math.Floor(x1), math.Floor(y1)}
	}
	return d
}

// print makes a print ready, once. It fails where its palette or paper is gone.
func (d *drawer) print(s *session.State, seen session.Seen) (*print, error) {
	if p := d.prints[seen]; p != nil {
		return p, nil
	}
	as, err := s.As(seen)
	if err != nil {
		return nil, err
	}
	p := &print{state: as}
	if p.printing, err = picture.Prepare(&p.state); err != nil {
		return nil, err
	}
	if p.state.Masked {
		small, level := picture.Small(d.planes)
		masks, err := p.printing.FindMasks(&p.state, small, level)
		if err != nil {
			return nil, err
		}
		p.printing.Masks = &masks
	}
	p.curves = p.printing.Curves(&p.state)
	if len(d.prints) == mostPrints {
		clear(d.prints)
	}
	d.prints[seen] = p
	return p, nil
}

// assemble puts a print together as it is seen through view, for pixels of about so many
// pixels of the key each.
func (d *drawer) assemble(p *print, view affine.Matrix, each float64) *render.Picture {
	level := 0
	for most := min(len(d.planes[0]), len(d.planes[1]), len(d.planes[2])) - 1; level < most && each >= math.Exp2(float64(level+1)); {
		level++
	}
	var planes [3]*plane.Plane
	for i := range planes {
		planes[i] = d.planes[i][level]
	}
	return picture.Assemble(&p.state, p.printing, p.curves, planes, view, level)
}

// Picture is a part of a print, or of the reference, as a file.
type Picture struct {
	JPEG []byte
	W, H int // pixels
}

// part draws an area, its longer side of at most so many pixels, never more than there
// are unless blown says so.
func (d *drawer) part(p *print, kind render.Kind, a area, longest int, blown bool) (Picture, error) {
	each := max(a.w(), a.h()) / float64(longest)
	if !blown {
		each = max(each, 1)
	}
	w, h := max(int(a.w()/each+0.5), 1), max(int(a.h()/each+0.5), 1)
	view := affine.Matrix{a.w() / float64(w), 0, a.x0 - 0.5 + a.w()/float64(2*w), 0, a.h() / float64(h), a.y0 - 0.5 + a.h()/float64(2*h)}
	return encoded(d.assemble(p, view, each).Image(kind, w, h, nil))
}

// edges draws the edges of two layers in an area: those of the first light, of the
// second dark.
func (d *drawer) edges(p *print, at func(pic *render.Picture, x, y float64) render.RGB, a area, longest int) (Picture, error) {
	each := max(a.w(), a.h()) / float64(longest)
	w, h := max(int(a.w()/each+0.5), 1), max(int(a.h()/each+0.5), 1)
	pic := d.assemble(p, affine.Identity, 1)
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := at(pic, a.x0-0.5+(float64(x)+0.5)*a.w()/float64(w), a.y0-0.5+(float64(y)+0.5)*a.h()/float64(h))
			img.SetNRGBA(x, y, color.NRGBA{uint8(255*c[0] + 0.5), uint8(255*c[1] + 0.5), uint8(255*c[2] + 0.5), 255})
		}
	}
	return encoded(img)
}

func encoded(img *image.NRGBA) (Picture, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality})
	return Picture{b.Bytes(), img.Rect.Dx(), img.Rect.Dy()}, err
}

// layersOf names two layers.
func layersOf(a, b pigment.Printer) string { return a.String() + " and " + b.String() }

package plane

import "fmt"

// Half returns the plane at half its size, each pixel the mean of 2 × 2. An
// odd last column or row stands alone. Pixel x of the half lies at 2x + 0.5 of
// the whole. A half that the plane was told of is given as it is, shared.
func (p *Plane) Half() *Plane {
	if p.half != nil {
		return p.half
	}
	h := New((p.W+1)/2, (p.H+1)/2)
	for y := range h.H {
		a := p.Row(2 * y)
		b := p.Row(min(2*y+1, p.H-1))
		n := p.W / 2
		means(h.Row(y)[:n], a, b)
		if n < h.W {
			h.Row(y)[n] = uint16((uint32(a[p.W-1]) + uint32(b[p.W-1]) + 1) / 2)
		}
	}
	return h
}

// Halved tells the plane of its half, for those whose pyramid is there already: what needs a
// half then makes none. The codes of neither may change any more. It panics where
// the size of h is not that of a half.
func (p *Plane) Halved(h *Plane) {
	if h.W != (p.W+1)/2 || h.H != (p.H+1)/2 {
		panic(fmt.Sprintf("plane: %d × %d is no half of %d × %d", h.W, h.H, p.W, p.H))
	}
	p.half = h
}

// means fills a row with the means of two pixels each of two rows, four at a time: their places
// are then checked once.
func means(out, a, b []uint16) {
	mean := func(a, b, c, d uint16) uint16 { return uint16((uint32(a) + uint32(b) + uint32(c) + uint32(d) + 2) / 4) }
	for len(out) >= 4 && len(a) >= 8 && len(b) >= 8 {
		to, s, t := (*[4]uint16)(out), (*[8]uint16)(a), (*[8]uint16)(b)
		to[0] = mean(s[0], s[1], t[0], t[1])
		to[1] = mean(s[2], s[3], t[2], t[3])
		to[2] = mean(s[4], s[5], t[4], t[5])
		to[3] = mean(s[6], s[7], t[6], t[7])
		out, a, b = out[4:], a[8:], b[8:]
	}
	for x := range out {
		out[x] = mean(a[2*x], a[2*x+1], b[2*x], b[2*x+1])
	}
}

// Pyramid returns the plane and its halves, until the longer side is at most
// side pixels. Level l holds pixels of 2^l pixels of the plane; x of level l
// lies at (x+0.5)·2^l - 0.5 of level 0.
func (p *Plane) Pyramid(side int) []*Plane {
	levels := []*Plane{p}
	for max(p.W, p.H) > max(side, 1) {
		p = p.Half()
		levels = append(levels, p)
	}
	return levels
}

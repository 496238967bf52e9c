package plane

// Half returns the plane at half its size, each pixel the mean of 2 × 2. An
// odd last column or row stands alone. Pixel x of the half lies at 2x + 0.5 of
// the whole.
func (p *Plane) Half() *Plane {
	h := New((p.W+1)/2, (p.H+1)/2)
	for y := range h.H {
		a := p.Row(2 * y)
		b := p.Row(min(2*y+1, p.H-1))
		out := h.Row(y)
		n := p.W / 2
		for x := range n {
			s := uint32(a[2*x]) + uint32(a[2*x+1]) + uint32(b[2*x]) + uint32(b[2*x+1])
			out[x] = uint16((s + 2) / 4)
		}
		if n < h.W {
			out[n] = uint16((uint32(a[p.W-1]) + uint32(b[p.W-1]) + 1) / 2)
		}
	}
	return h
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

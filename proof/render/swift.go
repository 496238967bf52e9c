package render

import (
	"encoding/binary"
	"math"

	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/tone"
)

// swift computes the rows of a picture as At does, in whole numbers: places step along a
// row, the curves' knots hold places in the cube, and the three channels of a node lie in
// one word, so that the four nodes of a pixel cost three multiplications.
// It is held to At by test.
type swift struct {
	picture *Picture
	kind    Kind
	layers  [3]swiftLayer
	nodes   []uint64
	ends    *[1 << nodeBits]uint8 // a channel of a node, or between some, to a code of 8 bits
	masks   [9]int64              // in 1 << maskBits
}

// swiftLayer is what a layer brings. Of its knots only some are there: for a plain print
// those from codes to places, for a masked one those to tones and on to places, for the
// reference those to light.
type swiftLayer struct {
	u, v     stride
	straight bool // the way moves by whole pixels: nothing lies between pixels
	hidden   bool
	places   *tone.Curve // of density codes: places in 1 << weightBits of a node
	tones    *tone.Curve
	printed  *tone.Curve // of masked tones: places
	light    *tone.Curve
}

// stride is a coordinate of the plane along the picture's rows, in 1 << strideBits.
type stride struct{ start, right, down int64 }

const (
	strideBits   = 32
	codeBits     = 4  // between two density codes: a curve can be steep
	fractionBits = 20 // of a place between pixels: beside a steep edge a millionth is a sixteenth of a code
	maskBits     = 16
	weightBits   = 8  // a place along an axis of the cube counts nodes in 1 << weightBits
	nodeBits     = 13 // of a channel of a node
	laneBits     = nodeBits + weightBits
	laneMask     = 1<<laneBits - 1
	longestRow   = 1 << 20 // and column, pixels
	block        = 512     // pixels that are worked on at a time, so that they stay in the cache
)

// swiftly makes the tables; nil where a way is not affine or something is too large.
func (p *Picture) swiftly(kind Kind, w, h int) *swift {
	if max(w, h) > longestRow {
		return nil
	}
	s := &swift{picture: p, kind: kind}
	if kind == Reference && p.Show != nil || kind == Print && p.N > 1<<(16-weightBits) {
		return nil
	}
	for i := range p.Layers {
		l, to := &p.Layers[i], &s.layers[i]
		way := &l.Laid
		if kind == Reference {
			way = &l.Scanned
		}
		if way.Warp != nil || l.Plane.W < 2 || l.Plane.H < 2 || !to.along(way) {
			return nil
		}
		to.hidden = l.Hidden
		switch {
		case kind == Reference:
			to.light = l.Reference
		case p.Masks != nil:
			to.tones, to.printed = l.Tone, p.placesOf(l.Thickness)
		default:
			to.places = p.placesOf(l.Print)
		}
	}
	if kind == Print {
		s.pack()
	}
	return s
}

// along makes the strides of a way. It fails where a number of it is beyond what they hold.
func (l *swiftLayer) along(way *Way) bool {
	m := way.Matrix
	l.straight = m[0] == 1 && m[1] == 0 && m[3] == 0 && m[4] == 1 && m[2] == math.Trunc(m[2]) && m[5] == math.Trunc(m[5])
	for i, v := range m {
		if largest := [6]float64{1 << 10, 1 << 10, 1 << 26, 1 << 10, 1 << 10, 1 << 26}[i]; !(math.Abs(v) < largest) {
			return false
		}
	}
	whole := func(v float64) int64 { return int64(math.Round(v * (1 << strideBits))) }
	l.u = stride{whole(m[2]), whole(m[0]), whole(m[1])}
	l.v = stride{whole(m[5]), whole(m[3]), whole(m[4])}
	return true
}

// placesOf are the places that a curve takes its knots to.
func (p *Picture) placesOf(c *tone.Curve) *tone.Curve {
	var out tone.Curve
	for i, v := range c {
		out[i] = uint16(float64(v)/65535*float64(p.N-1)*(1<<weightBits) + 0.5)
	}
	return &out
}

// between reads a curve at a code in 1 << codeBits.
func between(c *tone.Curve, code uint32) uint16 {
	// Knots lie 65535/4096 codes apart: times 256 · 65536/65535, to 16 bits behind the knot.
	x := code<<8 + code>>8
	a, b := int32(c[x>>16&(tone.Knots-1)]), int32(c[x>>16&(tone.Knots-1)+1])
	return uint16(a + int32((int64(b-a)*int64(x&0xffff)+0x8000)>>16))
}

// pack brings the nodes into words.
func (s *swift) pack() {
	const top = 1<<nodeBits - 1
	count := len(s.picture.Table) / 3
	// A pixel at the end of an axis reads nodes beyond it too, with no weight: room for these.
	s.nodes = make([]uint64, count+s.picture.N*(s.picture.N+1)+1)
	for i := range count {
		for ch, v := range s.picture.Table[3*i : 3*i+3] {
			lane := uint64(math.Round(min(max((float64(v)-cube.EncodedMin)/cube.EncodedSpan, 0), 1) * top))
			s.nodes[i] |= lane << (ch * laneBits)
		}
	}
	s.ends = new([1 << nodeBits]uint8)
	for i := range s.ends {
		v := float64(i)/top*cube.EncodedSpan + cube.EncodedMin
		s.ends[i] = uint8(min(max(v, 0), 1)*255 + 0.5)
	}
	if s.picture.Masks != nil {
		for i, v := range s.picture.Masks {
			s.masks[i] = int64(math.Round(float64(v) * (1 << maskBits)))
		}
	}
}

// row writes a row of pixels, of four bytes each.
func (s *swift) row(y int, out []uint8) {
	w := len(out) / 4
	from, to := 0, w
	for i := range s.layers {
		if l := &s.layers[i]; l.needed(s.kind, s.picture.Masks != nil) {
			a, b := l.inside(s.picture.Layers[i].Plane.W, s.picture.Layers[i].Plane.H, w, y)
			from, to = max(from, a), min(to, b)
		}
	}
	to = max(from, to)
	for x := 0; x < w; x++ { // beside them, where a plate ends
		if x == from && to > from {
			x = to - 1
			continue
		}
		put(out[4*x:4*x+4:4*x+4], s.picture.At(s.kind, float64(x), float64(y)))
	}
	var codes codes
	var at places
	for x := from; x < to; x += block {
		n := min(block, to-x)
		for i := range s.layers {
			l := &s.layers[i]
			if l.needed(s.kind, s.picture.Masks != nil) {
				l.read(codes[i][:n], s.picture.Layers[i].Plane, x, y)
			}
		}
		px := out[4*x : 4*(x+n)]
		switch {
		case s.kind == Reference:
			s.reference(px, &codes)
		case s.picture.Masks != nil:
			s.masked(n, &at, &codes)
			s.look(px, &at)
		default:
			s.plain(n, &at, &codes)
			s.look(px, &at)
		}
	}
}

// needed tells whether the layer's plate counts in a picture of that kind.
func (l *swiftLayer) needed(kind Kind, masked bool) bool {
	return kind == Reference || masked || !l.hidden
}

// inside is the run of a row's w pixels whose four neighbours all lie on a plane of
// planeW × planeH.
func (l *swiftLayer) inside(planeW, planeH, w, y int) (from, to int) {
	from, to = 0, w
	for _, c := range [2]struct {
		stride
		pixels int
	}{{l.u, planeW}, {l.v, planeH}} {
		start, end := c.start+c.down*int64(y), int64(c.pixels-1)<<strideBits
		switch { // 0 ≤ start + right·x < end
		case c.right > 0:
			from, to = max(from, ceiling(-start, c.right)), min(to, ceiling(end-start, c.right))
		case c.right < 0:
			from, to = max(from, ceiling(start-end+1, -c.right)), min(to, ceiling(start+1, -c.right))
		case start < 0 || start >= end:
			return 0, 0
		}
	}
	return from, to
}

// ceiling is a / b, b being positive, brought to the next whole number, and held to what
// rows can be long.
func ceiling(a, b int64) int {
	q := a / b
	if a%b > 0 {
		q++
	}
	return int(min(max(q, -longestRow), longestRow))
}

// read interpolates codes of pixels from x on.
func (l *swiftLayer) read(codes []uint32, p *plane.Plane, x, y int) {
	pix, w := p.Pix, p.W
	u := l.u.start + l.u.right*int64(x) + l.u.down*int64(y)
	v := l.v.start + l.v.right*int64(x) + l.v.down*int64(y) - int64(p.From)<<strideBits
	if l.straight {
		o := int(v>>strideBits)*w + int(u>>strideBits)
		for i, code := range pix[o : o+len(codes)] {
			codes[i] = uint32(code) << codeBits
		}
		return
	}
	const fraction = 1<<fractionBits - 1
	for i := range codes {
		fx, fy := u>>(strideBits-fractionBits)&fraction, v>>(strideBits-fractionBits)&fraction
		o := int(v>>strideBits)*w + int(u>>strideBits)
		r0, r1 := pix[o:o+2:o+2], pix[o+w:o+w+2:o+w+2]
		a := int64(r0[0])<<fractionBits + (int64(r0[1])-int64(r0[0]))*fx
		b := int64(r1[0])<<fractionBits + (int64(r1[1])-int64(r1[0]))*fx
		codes[i] = uint32((a<<fractionBits + (b-a)*fy + 1<<(2*fractionBits-codeBits-1)) >> (2*fractionBits - codeBits))
		u += l.u.right
		v += l.v.right
	}
}

// codes are density codes of some pixels in 1 << codeBits, by printer.
type codes [3][block]uint32

// places are those in the cube, likewise.
type places [3][block]uint16

func (s *swift) plain(n int, to *places, codes *codes) {
	for k := range to {
		l, out := &s.layers[k], to[k][:n]
		if l.hidden {
			clear(out)
			continue
		}
		for i, code := range codes[k][:n] {
			out[i] = between(l.places, code)
		}
	}
}

func (s *swift) masked(n int, to *places, codes *codes) {
	m := &s.masks
	for i := range n {
		var u [3]int64
		for k := range u {
			u[k] = int64(between(s.layers[k].tones, codes[k][i]))
		}
		for k := range u {
			if s.layers[k].hidden {
				to[k][i] = 0
				continue
			}
			tone := (m[3*k]*u[0] + m[3*k+1]*u[1] + m[3*k+2]*u[2]) >> (maskBits - codeBits)
			to[k][i] = between(s.layers[k].printed, uint32(min(max(tone, 0), 65535<<codeBits)))
		}
	}
}

func (s *swift) reference(px []uint8, codes *codes) {
	for k := range codes {
		light, ch := s.layers[k].light, channel(k)
		for i, code := range codes[k][:len(px)/4] {
			px[4*i+ch] = uint8((uint32(between(light, code))*255 + 0x8000) >> 16)
			px[4*i+3] = 255
		}
	}
}

// ordered gives the smaller one of two places first, without a branch: in WebAssembly, as Go
// has it, min and max are some.
func ordered(a, b uint64) (less, more uint64) {
	by := (b - a) & uint64(int64(b-a)>>63) // what b lacks, or nothing
	return a + by, b - by
}

// look looks pixels up by their places, as Picture.between does.
func (s *swift) look(px []uint8, at *places) {
	const (
		part   = 1<<weightBits - 1
		whole  = part + 1
		halves = whole/2 | whole/2<<laneBits | whole/2<<(2*laneBits)
		node   = 1<<nodeBits - 1
		low    = 1<<16 - 1
	)
	nodes, ends, n := s.nodes, s.ends, uint64(s.picture.N)
	count := min(len(px)/4, block)
	px = px[:4*count]
	for i := range count {
		y, m, c := uint64(at[pigment.Yellow][i]), uint64(at[pigment.Magenta][i]), uint64(at[pigment.Cyan][i])
		i0 := y>>weightBits + n*(m>>weightBits+n*(c>>weightBits))
		// For each axis, how far on the place lies in its cell (high bits) and the step to the
		// next node (low bits). Taken from the largest down, the steps lead from the low to
		// the high corner of the cell.
		y, m, c = y&part<<16|1, m&part<<16|n, c&part<<16|n*n
		less, more := ordered(y, m)
		more, first := ordered(more, c)
		last, second := ordered(less, more)
		i1 := i0 + first&low
		i2 := i1 + second&low
		i3 := i2 + last&low
		n0, n1, n2, n3 := nodes[i0], nodes[i1], nodes[i2], nodes[i3]
		// In words that wrap around, this is n0·(256 − first) + n1·(first − second) + …
		sum := n0<<weightBits + (n1-n0)*(first>>16) + (n2-n1)*(second>>16) + (n3-n2)*(last>>16) + halves
		binary.LittleEndian.PutUint32(px[4*i:4*i+4], uint32(ends[sum>>weightBits&node])|uint32(ends[sum>>(laneBits+weightBits)&node])<<8|
			uint32(ends[sum>>(2*laneBits+weightBits)&node])<<16|0xff000000)
	}
}

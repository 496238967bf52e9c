package scan

import (
	"bufio"
	"encoding/binary"
	"hash/crc32"
	"io"

	"github.com/klauspost/compress/zlib"

	"threeply/proof/plane"
)

// pass is a part of an interlaced picture: the pixels from x, y on, every dx-th of every
// dy-th row. PNG (Third Edition), 8.1.
type pass struct{ x, y, dx, dy int }

var (
	wholePass    = []pass{{0, 0, 1, 1}}
	interlacings = []pass{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}}
)

// read decodes the pixels row by row, one plane for grey and for a palette of greys,
// three for colour. What is transparent is laid on white.
func (p *pngInfo) read(data Data, inflate Inflater) ([]*plane.Plane, *Error) {
	colours, refusal := p.colours()
	if refusal != nil {
		return nil, refusal
	}
	packed := func() io.Reader { return bufio.NewReaderSize(&pngPixels{data: data, at: p.pixels}, 1<<16) }
	var z io.Reader
	if inflate != nil && p.w*p.h >= leastInflated {
		fast := inflate.inflate(packed)
		defer fast.Close()
		z = fast
	} else if own, err := zlib.NewReader(packed()); err == nil {
		z = own
	} else {
		return nil, fromLibrary(err)
	}
	p.findHidden()
	planes := make([]*plane.Plane, colours)
	for i := range planes {
		planes[i] = plane.New(p.w, p.h)
	}
	passes := wholePass
	if p.interlaced {
		passes = interlacings
	}
	for _, s := range passes {
		if refusal := p.readPass(z, s, planes); refusal != nil {
			return nil, refusal
		}
	}
	// The end of the stream, where its checksum stands.
	if n, err := io.Copy(io.Discard, io.LimitReader(z, 1)); err != nil || n > 0 {
		if err == nil {
			return nil, malformed("it is damaged: there are more pixels than its header says")
		}
		return nil, fromLibrary(err)
	}
	return planes, nil
}

// colours is the number of planes; a palette is looked at for it.
func (p *pngInfo) colours() (int, *Error) {
	switch p.colour {
	case pngRGB, pngRGBAlpha:
		return 3, nil
	case pngPalette:
		if len(p.palette) == 0 || len(p.palette)%3 > 0 {
			return 0, malformed("it is damaged: its pixels are numbers of colours, but its palette is missing or broken")
		}
		for i := 0; i < len(p.palette); i += 3 {
			if c := p.palette[i : i+3]; c[0] != c[1] || c[0] != c[2] {
				return 3, nil
			}
		}
	}
	return 1, nil
}

func (p *pngInfo) readPass(in io.Reader, s pass, planes []*plane.Plane) *Error {
	w, h := (p.w-s.x+s.dx-1)/s.dx, (p.h-s.y+s.dy-1)/s.dy
	if w <= 0 || h <= 0 {
		return nil
	}
	bits := p.bits * pngChannels[p.colour] // of a pixel
	row, above := make([]byte, 1+(w*bits+7)/8), make([]byte, 1+(w*bits+7)/8)
	for y := range h {
		if _, err := io.ReadFull(in, row); err != nil {
			return fromLibrary(err)
		}
		if !unfilter(row[0], row[1:], above[1:], max(bits/8, 1)) {
			return malformed("it is damaged: a row is stored in a way that PNG does not know")
		}
		if refusal := p.place(row[1:], w, s, s.y+y*s.dy, planes); refusal != nil {
			return refusal
		}
		row, above = above, row
	}
	return nil
}

// unfilter turns a row of differences into values; PNG (Third Edition), 9.2. back is how
// many bytes lie between a byte and that of the pixel before.
func unfilter(kind byte, row, above []byte, back int) bool {
	switch kind {
	case 0:
	case 1:
		for i := back; i < len(row); i++ {
			row[i] += row[i-back]
		}
	case 2:
		for i, a := range above {
			row[i] += a
		}
	case 3:
		for i, a := range above {
			left := 0
			if i >= back {
				left = int(row[i-back])
			}
			row[i] += byte((left + int(a)) / 2)
		}
	case 4:
		for i := range min(back, len(row)) {
			row[i] += above[i]
		}
		for i := back; i < len(row); i++ {
			row[i] += nearest(row[i-back], above[i], above[i-back])
		}
	default:
		return false
	}
	return true
}

// nearest is that of left, above and corner that lies nearest to left + above − corner
// (9.4, the predictor of Paeth).
func nearest(left, above, corner byte) byte {
	a, b, c := int(left), int(above), int(corner)
	toLeft, toAbove, toCorner := b-c, a-c, a+b-2*c
	toLeft, toAbove, toCorner = max(toLeft, -toLeft), max(toAbove, -toAbove), max(toCorner, -toCorner)
	switch {
	case toLeft <= toAbove && toLeft <= toCorner:
		return left
	case toAbove <= toCorner:
		return above
	}
	return corner
}

// place puts a row of w pixels where it belongs.
func (p *pngInfo) place(row []byte, w int, s pass, y int, planes []*plane.Plane) *Error {
	if p.colour == pngPalette {
		return p.placeNumbers(row, w, s, y, planes)
	}
	channels, bytes := pngChannels[p.colour], p.bits/8
	value := func(i int) uint16 { return uint16(row[i]) * 257 }
	if bytes == 2 {
		value = func(i int) uint16 { return uint16(row[2*i])<<8 | uint16(row[2*i+1]) }
	}
	if p.colour == pngGrey && bytes == 2 && s.dx == 1 && p.hidden == nil { // the commonest kind, faster
		for x, out := 0, planes[0].Row(y); x < w; x++ {
			out[x] = uint16(row[2*x])<<8 | uint16(row[2*x+1])
		}
		return nil
	}
	for c, to := range planes {
		out := to.Row(y)
		for i, x := c, s.x; x < len(out); i, x = i+channels, x+s.dx {
			out[x] = value(i)
		}
	}
	if channels == len(planes) && p.hidden == nil {
		return nil
	}
	for i := range w {
		opacity := uint16(65535)
		if channels > len(planes) {
			opacity = value(i*channels + channels - 1)
		} else if p.isHidden(value, i*channels) {
			opacity = 0
		}
		p.layOnWhite(planes, y*p.w+s.x+i*s.dx, opacity, false)
	}
	return nil
}

// findHidden reads which codes stand for nothing to be seen; PNG (Third Edition), 11.3.1.1.
func (p *pngInfo) findHidden() {
	n := pngChannels[p.colour]
	if p.colour != pngGrey && p.colour != pngRGB || len(p.opacity) != 2*n {
		return
	}
	for i := range n {
		code := binary.BigEndian.Uint16(p.opacity[2*i:])
		if p.bits == 8 {
			code = code & 255 * 257
		}
		p.hidden = append(p.hidden, code)
	}
}

// isHidden tells whether the pixel whose values begin at first is not to be seen.
func (p *pngInfo) isHidden(value func(i int) uint16, first int) bool {
	for i, code := range p.hidden {
		if value(first+i) != code {
			return false
		}
	}
	return true
}

func (p *pngInfo) placeNumbers(row []byte, w int, s pass, y int, planes []*plane.Plane) *Error {
	for i := range w {
		at := i * p.bits
		number := int(row[at/8]) >> (8 - p.bits - at%8) & (1<<p.bits - 1)
		if 3*number >= len(p.palette) {
			return malformed("it is damaged: a pixel points to colour %d of a palette of %d", number, len(p.palette)/3)
		}
		for c, to := range planes {
			to.Pix[y*p.w+s.x+i*s.dx] = uint16(p.palette[3*number+c]) * 257
		}
		if number < len(p.opacity) {
			p.layOnWhite(planes, y*p.w+s.x+i*s.dx, uint16(p.opacity[number])*257, false)
		}
	}
	return nil
}

// pngPixels is what the chunks of pixels hold, one after the other, each held to its
// checksum.
type pngPixels struct {
	data Data
	at   int64 // of the next chunk, or in one
	left int64 // in this chunk
	in   bool  // a chunk
	sum  uint32
}

func (p *pngPixels) Read(b []byte) (int, error) {
	for p.left == 0 {
		if p.in {
			foot, err := p.take(4)
			if err != nil {
				return 0, err
			}
			if binary.BigEndian.Uint32(foot) != p.sum {
				return 0, malformed("it is damaged: the checksum of its pixels is wrong")
			}
			p.in = false
		}
		head, err := p.take(8)
		if err != nil {
			return 0, err
		}
		if string(head[4:]) != "IDAT" {
			return 0, io.EOF
		}
		p.left, p.in, p.sum = int64(binary.BigEndian.Uint32(head)), true, crc32.ChecksumIEEE(head[4:])
	}
	n, err := p.data.ReadAt(b[:min(int64(len(b)), p.left)], p.at)
	if n > 0 {
		err = nil
	}
	p.sum = crc32.Update(p.sum, crc32.IEEETable, b[:n])
	p.at, p.left = p.at+int64(n), p.left-int64(n)
	return n, err
}

func (p *pngPixels) take(n int64) ([]byte, error) {
	if p.at+n > p.data.Size() {
		return nil, io.ErrUnexpectedEOF
	}
	b, refusal := part(p.data, p.at, n)
	if refusal != nil {
		return nil, refusal
	}
	p.at += n
	return b, nil
}

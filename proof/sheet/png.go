package sheet

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/adler32"
	"hash/crc32"
	"io"
	"math"
	"strings"
)

// PNG is a picture of 8 bits a channel, red, green and blue, written in one go (Portable
// Network Graphics, third edition, W3C 2025).
type PNG struct {
	W, H int

	// Row fills row y, four bytes a pixel, of which the fourth does not count. It may be
	// called for several rows at a time, each once.
	Row func(y int, rgba []byte)

	PPI         float64 // pixels an inch; 0 if unknown
	Profile     []byte  // ICC profile; none if empty
	ProfileName string  // 1 to 79 letters of Latin-1
	Description string  // any Unicode, but no zero bytes
	Texts       []Text  // what it says besides
	XMP         []byte  // a packet; none if empty

	// Progress, when set, is told the share done, 0 … 1, never twice at a time.
	Progress func(share float64)
}

// Text is what a picture says under one of the keywords that the format has for it, such
// as Title, Author, Copyright, Creation Time and Software (section 11.3.3.1). An empty one
// is left out.
type Text struct{ Keyword, Says string }

// Write writes the file. Its errors are those of out, and a picture that the format cannot
// hold: no pixels, or a name of its profile that is too long.
func (p PNG) Write(out io.Writer) error {
	before, err := p.before()
	if err != nil {
		return err
	}
	return stream(out, p, before, p.Progress)
}

// Size is that of the picture.
func (p PNG) Size() (w, h int) { return p.W, p.H }

// rowsPerStrip is how many rows a strip has, but for the last.
func (p PNG) rowsPerStrip() int { return max(min(stripBytes/(1+3*p.W), p.H), 1) }

// Strips is how many there are.
func (p PNG) Strips() int {
	rows := p.rowsPerStrip()
	return (p.H + rows - 1) / rows
}

// Rows are those of strip i.
func (p PNG) Rows(i int) (from, to int) {
	rows := p.rowsPerStrip()
	return i * rows, min((i+1)*rows, p.H)
}

// Pack draws strip i and appends it as an IDAT chunk of its own. The chunks are one stream
// (section 10.1), in which a strip ends at a whole byte (RFC 1951, section 3.2.4: a stored
// block of no bytes) and refers to no strip before it.
func (p PNG) Pack(to []byte, i int) ([]byte, uint32, error) {
	s := scratches.Get().(*scratch)
	defer scratches.Put(s)
	rgba, above, raw := atLeast(&s.rgba[0], 4*p.W), atLeast(&s.rgba[1], 4*p.W), s.raw[:0]
	from, end := p.Rows(i)
	p.Row(from, rgba)
	raw = filtered(raw, rgba, nil) // of the strip before nothing need be known
	for y := from + 1; y < end; y++ {
		rgba, above = above, rgba
		p.Row(y, rgba)
		raw = filtered(raw, rgba, above)
	}
	s.raw = raw
	to, begin := beginChunk(to, "IDAT")
	if i == 0 {
		to = append(to, zlibHead[:]...)
	}
	a := &appender{to}
	w, err := s.packer(a)
	if err == nil {
		_, err = w.Write(raw)
	}
	if err == nil {
		err = w.Flush()
	}
	return endChunk(a.to, begin), adler32.Checksum(raw), err
}

// Join gives what stands before the IDAT chunks of the strips, and after them.
func (p PNG) Join(packed []Packed) (before, after []byte, err error) {
	if before, err = p.before(); err != nil {
		return nil, nil, err
	}
	sum := uint32(1)
	for i, s := range packed {
		from, to := p.Rows(i)
		sum = joinAdler(sum, s.Sum, (to-from)*(1+3*p.W))
	}
	last := []byte{1, 0, 0, 0xff, 0xff} // the last block, of no bytes
	after = chunk(nil, "IDAT", binary.BigEndian.AppendUint32(last, sum))
	return before, chunk(after, "IEND", nil), nil
}

// joinAdler is the check sum (Adler-32, RFC 1950, section 9) of two runs of bytes one after
// the other, from that of each and the length of the second.
func joinAdler(first, second uint32, length int) uint32 {
	const base = 65521
	n := uint32(length % base)
	a, b := first&0xffff, first>>16
	a2, b2 := second&0xffff, second>>16
	low := (a + a2 + base - 1) % base
	return (b+b2+(n*a)%base+base-n)%base<<16 | low
}

// chunks are iCCP, pHYs and iTXt (sections 11.3.2.3, 11.3.4.3 and 11.3.3.4).
func (p PNG) chunks() ([]byte, error) {
	var out []byte
	if len(p.Profile) > 0 {
		if n := len(p.ProfileName); n < 1 || n > 79 {
			return nil, fmt.Errorf("sheet: a profile's name of %d letters; 1 to 79 can be", n)
		}
		var packed bytes.Buffer
		z := zlib.NewWriter(&packed)
		if _, err := z.Write(p.Profile); err != nil {
			return nil, err
		}
		if err := z.Close(); err != nil {
			return nil, err
		}
		body := append([]byte(p.ProfileName), 0, 0) // zlib
		out = chunk(out, "iCCP", append(body, packed.Bytes()...))
	}
	if p.PPI > 0 {
		perMetre := uint32(math.Round(min(p.PPI/0.0254, math.MaxInt32)))
		body := binary.BigEndian.AppendUint32(nil, perMetre)
		body = binary.BigEndian.AppendUint32(body, perMetre)
		out = chunk(out, "pHYs", append(body, 1)) // the metre
	}
	for _, text := range append([]Text{{"Description", p.Description}}, p.Texts...) {
		if text.Says != "" {
			body := []byte(text.Keyword + "\x00\x00\x00en\x00\x00") // plain, in English, the keyword not translated
			out = chunk(out, "iTXt", append(body, strings.ReplaceAll(text.Says, "\x00", " ")...))
		}
	}
	if len(p.XMP) > 0 { // the keyword is that of the XMP specification, part 3
		out = chunk(out, "iTXt", append([]byte("XML:com.adobe.xmp\x00\x00\x00\x00\x00"), p.XMP...))
	}
	return out, nil
}

// before is the signature and all chunks before IDAT (sections 5.2, 11.2.1 and 5.6).
func (p PNG) before() ([]byte, error) {
	if p.W < 1 || p.H < 1 {
		return nil, fmt.Errorf("sheet: no PNG of %d × %d pixels", p.W, p.H)
	}
	header := binary.BigEndian.AppendUint32(nil, uint32(p.W))
	header = binary.BigEndian.AppendUint32(header, uint32(p.H))
	header = append(header, 8, 2, 0, 0, 0) // bits, RGB; Deflate, filters, not interlaced
	more, err := p.chunks()
	return append(chunk([]byte("\x89PNG\r\n\x1a\n"), "IHDR", header), more...), err
}

func chunk(out []byte, kind string, body []byte) []byte {
	out, begin := beginChunk(out, kind)
	return endChunk(append(out, body...), begin)
}

// beginChunk appends what a chunk begins with; endChunk is told where that is.
func beginChunk(out []byte, kind string) (to []byte, begin int) {
	return append(append(out, 0, 0, 0, 0), kind...), len(out)
}

func endChunk(out []byte, begin int) []byte {
	said := out[begin+4:]
	binary.BigEndian.PutUint32(out[begin:], uint32(len(said)-4))
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(said))
}

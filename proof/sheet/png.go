package sheet

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"
	"strings"
)

// headEnds is where the chunks of our own go: behind the signature of eight
// bytes and the IHDR of 25 (Portable Network Graphics, third edition, W3C 2025,
// sections 5.2, 11.2.1 and 5.6: before PLTE and IDAT).
const headEnds = 8 + 25

// PNG is what a picture says of itself, beside its pixels.
type PNG struct {
	PPI         float64 // pixels an inch; 0 if unknown
	Profile     []byte  // ICC profile; none if empty
	ProfileName string  // 1 to 79 letters of Latin-1
	Description string  // any Unicode, but no zero bytes
	Texts       []Text  // what it says besides
	XMP         []byte  // a packet; none if empty
}

// Text is what a picture says under one of the keywords that the format has for it, such
// as Title, Author, Copyright, Creation Time and Software (section 11.3.3.1). An empty one
// is left out.
type Text struct{ Keyword, Says string }

// Write writes the picture with its profile, resolution and description. Its
// errors are those of out and of the encoder, which refuses pictures without
// pixels.
func (p PNG) Write(out io.Writer, img image.Image) error {
	more, err := p.chunks()
	if err != nil {
		return err
	}
	return png.Encode(&inserter{out: out, more: more}, img)
}

// inserter passes a stream on and puts more in at headEnds.
type inserter struct {
	out    io.Writer
	more   []byte
	passed int
}

func (w *inserter) Write(b []byte) (int, error) {
	if w.passed >= headEnds {
		return w.out.Write(b)
	}
	n, err := w.out.Write(b[:min(len(b), headEnds-w.passed)])
	if w.passed += n; err != nil || w.passed < headEnds {
		return n, err
	}
	if _, err := w.out.Write(w.more); err != nil {
		return n, err
	}
	rest, err := w.out.Write(b[n:])
	return n + rest, err
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

func chunk(out []byte, kind string, body []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
	begin := len(out)
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[begin:]))
}

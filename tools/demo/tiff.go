package main

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
)

// TIFF 6.0 tags (Adobe, 1992) in the order that section 2 asks for; Deflate is
// compression 8 of the supplement of 2002.
const (
	tagWidth        = 256
	tagHeight       = 257
	tagBits         = 258
	tagCompression  = 259
	tagPhotometric  = 262
	tagDescription  = 270
	tagOffsets      = 273
	tagSamples      = 277
	tagRowsPerStrip = 278
	tagByteCounts   = 279
	tagXResolution  = 282
	tagYResolution  = 283
	tagUnit         = 296
	tagPredictor    = 317

	asASCII    = 2
	asShort    = 3
	asLong     = 4
	asRational = 5
)

// writeTIFF writes a grey 16-bit picture, black is zero, Deflate with the
// horizontal predictor, with its resolution in pixels an inch.
func writeTIFF(out io.Writer, pix []uint16, w, h, ppi int, description string) error {
	const rows = 128
	var strips [][]byte
	for y := 0; y < h; y += rows {
		s, err := strip(pix[y*w:min(y+rows, h)*w], w)
		if err != nil {
			return err
		}
		strips = append(strips, s)
	}
	le := binary.LittleEndian
	const entries = 14
	body := make([]byte, 8+2+entries*12+4) // header, directory; what does not fit an entry follows
	copy(body, "II*\x00")
	le.PutUint32(body[4:], 8)
	le.PutUint16(body[8:], entries)
	var sizes, starts []uint32
	data := &bytes.Buffer{}
	extra := func(b []byte) uint32 {
		at := len(body)
		body = append(body, b...)
		if len(body)%2 == 1 {
			body = append(body, 0)
		}
		return uint32(at)
	}
	for _, s := range strips {
		sizes = append(sizes, uint32(len(s)))
		starts = append(starts, 0)
		data.Write(s)
	}
	longs := func(v []uint32) []byte {
		var b []byte
		for _, x := range v {
			b = le.AppendUint32(b, x)
		}
		return b
	}
	text := append([]byte(description), 0)
	if len(text) <= 4 {
		return fmt.Errorf("description %q is too short for a tag of its own", description)
	}
	resolution := extra(longs([]uint32{uint32(ppi), 1}))
	textAt := extra(text)
	sizesAt, startsAt := sizes[0], uint32(0)
	if len(strips) > 1 {
		sizesAt, startsAt = extra(longs(sizes)), extra(longs(starts))
	}
	at := uint32(len(body))
	for i, n := range sizes {
		starts[i] = at
		at += n
	}
	if len(strips) > 1 {
		copy(body[startsAt:], longs(starts))
	} else {
		startsAt = starts[0]
	}
	n := uint32(len(strips))
	for i, e := range [entries][4]uint32{
		{tagWidth, asLong, 1, uint32(w)}, {tagHeight, asLong, 1, uint32(h)}, {tagBits, asShort, 1, 16},
		{tagCompression, asShort, 1, 8}, {tagPhotometric, asShort, 1, 1},
		{tagDescription, asASCII, uint32(len(text)), textAt}, {tagOffsets, asLong, n, startsAt},
		{tagSamples, asShort, 1, 1}, {tagRowsPerStrip, asLong, 1, rows}, {tagByteCounts, asLong, n, sizesAt},
		{tagXResolution, asRational, 1, resolution}, {tagYResolution, asRational, 1, resolution},
		{tagUnit, asShort, 1, 2}, {tagPredictor, asShort, 1, 2},
	} {
		b := body[10+12*i:]
		le.PutUint16(b, uint16(e[0]))
		le.PutUint16(b[2:], uint16(e[1]))
		le.PutUint32(b[4:], e[2])
		le.PutUint32(b[8:], e[3])
	}
	if _, err := out.Write(body); err != nil {
		return err
	}
	_, err := data.WriteTo(out)
	return err
}

// strip packs rows of w pixels: each as the difference from its left
// neighbour, low byte first.
func strip(pix []uint16, w int) ([]byte, error) {
	raw := make([]byte, 0, 2*len(pix))
	for i, v := range pix {
		if i%w > 0 {
			v -= pix[i-1]
		}
		raw = binary.LittleEndian.AppendUint16(raw, v)
	}
	var b bytes.Buffer
	z, err := zlib.NewWriterLevel(&b, zlib.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(raw); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

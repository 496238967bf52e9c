package sheet

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"
	"time"
)

// Tags of TIFF 6.0 (Adobe, 1992); Deflate, compression 8, is of the supplement
// of 2002; the profile's tag of ICC.1:2001-04, B.4; that of XMP of ISO 16684-1 and its
// specification's part 3.
const (
	tagWidth        = 256
	tagHeight       = 257
	tagBits         = 258
	tagCompression  = 259
	tagPhotometric  = 262
	tagName         = 269
	tagDescription  = 270
	tagOffsets      = 273
	tagSamples      = 277
	tagRowsPerStrip = 278
	tagByteCounts   = 279
	tagXResolution  = 282
	tagYResolution  = 283
	tagUnit         = 296
	tagSoftware     = 305
	tagDateTime     = 306
	tagArtist       = 315
	tagPredictor    = 317
	tagXMP          = 700
	tagCopyright    = 33432
	tagProfile      = 34675

	asByte      = 1
	asASCII     = 2
	asShort     = 3
	asLong      = 4
	asRational  = 5
	asUndefined = 7
)

// TIFF is a picture of 16 bits a sample, written in one go: little-endian, in
// strips, by Deflate with the horizontal predictor. Grey has its black at zero.
type TIFF struct {
	W, H    int
	Samples int // a pixel: 1 for grey, 3 for RGB

	// Plain writes the strips as they are, a few at a time as they are drawn: no more of
	// the picture than these lies in memory, and programs that know no Deflate read it.
	Plain bool

	// TwoLevel writes one bit a pixel, packed by Deflate: black below half of what Row
	// gives, white from there on. It takes grey only, and is never plain.
	TwoLevel bool

	// Row fills row y, W·Samples values. It may be called for several rows at
	// a time, each once.
	Row func(y int, row []uint16)

	PPI         float64 // pixels an inch; 0 if unknown
	Profile     []byte  // ICC profile; none if empty
	Description string  // seven-bit ASCII
	Words       Words

	// Progress, when set, is told the share done, 0 … 1, never twice at a time.
	Progress func(share float64)
}

// Words are what a TIFF says of itself besides its Description; what is empty is left
// out. All but XMP are seven-bit ASCII.
type Words struct {
	Name, Software, Artist, Copyright string

	At  time.Time // when it was made; none if zero
	XMP []byte    // a packet
}

// entry is one field of the directory; data of more than four bytes lies
// outside it.
type entry struct {
	tag, kind uint16
	count     uint32
	data      []byte
}

// Write writes the file. Its errors are those of out, and a picture that the
// format cannot hold: no pixels, or more than 4 GB.
func (t TIFF) Write(out io.Writer) error {
	if t.W < 1 || t.H < 1 || (t.Samples != 1 && t.Samples != 3) || t.TwoLevel && t.Samples != 1 {
		return fmt.Errorf("sheet: no TIFF of %d × %d pixels of %d samples", t.W, t.H, t.Samples)
	}
	if !t.Plain || t.TwoLevel {
		return gather(out, t, t.Progress)
	}
	// Plain strips have the sizes of their rows.
	packed := make([]Packed, t.Strips())
	for i := range packed {
		from, to := t.Rows(i)
		packed[i].Size = 2 * t.W * t.Samples * (to - from)
	}
	before, _, err := t.Join(packed)
	if err != nil {
		return err
	}
	return stream(out, t, before, t.Progress)
}

// Size is that of the picture.
func (t TIFF) Size() (w, h int) { return t.W, t.H }

// rowsPerStrip is how many rows a strip has, but for the last.
func (t TIFF) rowsPerStrip() int {
	bytes := 2 * t.W * t.Samples
	if t.TwoLevel {
		bytes = (t.W + 7) / 8
	}
	return max(min(stripBytes/bytes, t.H), 1)
}

// Strips is how many there are.
func (t TIFF) Strips() int {
	rows := t.rowsPerStrip()
	return (t.H + rows - 1) / rows
}

// Rows are those of strip i.
func (t TIFF) Rows(i int) (from, to int) {
	rows := t.rowsPerStrip()
	return i * rows, min((i+1)*rows, t.H)
}

// Pack draws strip i and appends it as it stands in the file. Its check sum is 0: the
// format has none.
func (t TIFF) Pack(to []byte, i int) ([]byte, uint32, error) {
	s := scratches.Get().(*scratch)
	defer scratches.Put(s)
	row, raw := atLeast(&s.row, t.W*t.Samples), s.raw[:0]
	from, end := t.Rows(i)
	for y := from; y < end; y++ {
		t.Row(y, row)
		switch {
		case t.TwoLevel:
			raw = bits(raw, row)
		case t.Plain:
			for _, v := range row {
				to = binary.LittleEndian.AppendUint16(to, v)
			}
		default:
			raw = differences(raw, row, t.Samples)
		}
	}
	if t.Plain && !t.TwoLevel {
		return to, 0, nil
	}
	s.raw = raw
	to, err := s.zlib(to)
	return to, 0, err
}

// Join gives what stands before the strips: nothing stands after them.
func (t TIFF) Join(packed []Packed) (before, after []byte, err error) {
	rows := t.rowsPerStrip()
	sizes, starts := make([]uint32, len(packed)), make([]uint32, len(packed))
	at := uint64(len(assemble(t.fields(rows, longs(sizes...), longs(starts...)))))
	for i, s := range packed {
		sizes[i], starts[i] = uint32(s.Size), uint32(at)
		at += uint64(s.Size)
	}
	if at > math.MaxUint32 {
		return nil, nil, t.tooLarge()
	}
	return assemble(t.fields(rows, longs(sizes...), longs(starts...))), nil, nil
}

// differences appends a row, low byte first, each sample less the same sample
// of the pixel at its left (TIFF 6.0, section 14).
func differences(to []byte, row []uint16, samples int) []byte {
	for i, v := range row {
		if i >= samples {
			v -= row[i-samples]
		}
		to = binary.LittleEndian.AppendUint16(to, v)
	}
	return to
}

// bits appends a row of one bit a pixel, the first in the highest, to whole bytes.
func bits(to []byte, row []uint16) []byte {
	begin := len(to)
	to = append(to, make([]byte, (len(row)+7)/8)...)
	for x, v := range row {
		if v >= 1<<15 {
			to[begin+x/8] |= 0x80 >> (x % 8)
		}
	}
	return to
}

func (t TIFF) tooLarge() error {
	return fmt.Errorf("%d × %d pixels make a TIFF of more than 4 GB, which the format cannot hold; make it smaller", t.W, t.H)
}

// fields lists the directory in ascending order of tags.
func (t TIFF) fields(rows int, sizes, starts []byte) []entry {
	photometric := uint16(1) // black is zero
	if t.Samples == 3 {
		photometric = 2
	}
	unit, ppi := uint16(2), t.PPI // the inch
	if !(ppi > 0) {
		unit, ppi = 1, 1 // none: the shape of a pixel alone
	}
	resolution := longs(uint32(math.Round(1000*ppi)), 1000)
	bits, compression := uint16(16), uint16(8)
	switch {
	case t.TwoLevel:
		bits = 1
	case t.Plain:
		compression = 1
	}
	f := []entry{
		{tagWidth, asLong, 1, longs(uint32(t.W))},
		{tagHeight, asLong, 1, longs(uint32(t.H))},
		{tagBits, asShort, uint32(t.Samples), shorts([]uint16{bits, bits, bits}[:t.Samples]...)},
		{tagCompression, asShort, 1, shorts(compression)},
		{tagPhotometric, asShort, 1, shorts(photometric)},
		{tagOffsets, asLong, uint32(len(starts) / 4), starts},
		{tagSamples, asShort, 1, shorts(uint16(t.Samples))},
		{tagRowsPerStrip, asLong, 1, longs(uint32(rows))},
		{tagByteCounts, asLong, uint32(len(sizes) / 4), sizes},
		{tagXResolution, asRational, 1, resolution},
		{tagYResolution, asRational, 1, resolution},
		{tagUnit, asShort, 1, shorts(unit)},
	}
	if !t.TwoLevel && !t.Plain {
		f = append(f, entry{tagPredictor, asShort, 1, shorts(2)})
	}
	at := ""
	if !t.Words.At.IsZero() {
		at = t.Words.At.UTC().Format("2006:01:02 15:04:05")
	}
	for _, text := range []struct {
		tag  uint16
		says string
	}{
		{tagName, t.Words.Name}, {tagDescription, t.Description}, {tagSoftware, t.Words.Software}, {tagDateTime, at},
		{tagArtist, t.Words.Artist}, {tagCopyright, t.Words.Copyright},
	} {
		if text.says != "" {
			ended := append([]byte(text.says), 0)
			f = append(f, entry{text.tag, asASCII, uint32(len(ended)), ended})
		}
	}
	if x := t.Words.XMP; len(x) > 0 {
		f = append(f, entry{tagXMP, asByte, uint32(len(x)), x})
	}
	if len(t.Profile) > 0 {
		f = append(f, entry{tagProfile, asUndefined, uint32(len(t.Profile)), t.Profile})
	}
	slices.SortFunc(f, func(a, b entry) int { return int(a.tag) - int(b.tag) })
	return f
}

// assemble puts header, directory and what lies outside it together; the
// strips follow.
func assemble(fields []entry) []byte {
	le := binary.LittleEndian
	out := []byte("II*\x00\x08\x00\x00\x00")
	out = le.AppendUint16(out, uint16(len(fields)))
	outside := len(out) + 12*len(fields) + 4
	var data []byte
	for _, e := range fields {
		out = le.AppendUint16(out, e.tag)
		out = le.AppendUint16(out, e.kind)
		out = le.AppendUint32(out, e.count)
		if len(e.data) <= 4 {
			out = append(out, append(slices.Clone(e.data), 0, 0, 0, 0)[:4]...)
			continue
		}
		out = le.AppendUint32(out, uint32(outside+len(data)))
		data = append(data, e.data...)
		if len(data)%2 == 1 {
			data = append(data, 0) // a value begins at an even byte
		}
	}
	out = append(out, 0, 0, 0, 0) // no further directory
	return append(out, data...)
}

func longs(v ...uint32) []byte {
	var b []byte
	for _, x := range v {
		b = binary.LittleEndian.AppendUint32(b, x)
	}
	return b
}

func shorts(v ...uint16) []byte {
	var b []byte
	for _, x := range v {
		b = binary.LittleEndian.AppendUint16(b, x)
	}
	return b
}

package scan

import (
	"encoding/binary"
	"math"
	"slices"
)

// Tags of TIFF 6.0 (page 117), of its Technical Note 2 (JPEG tables), of Adobe's TIFF
// Technical Note 1 (sub-directories) and of the ICC profile (ICC.1:2010, annex B.4).
const (
	tagSubfile        = 254
	tagOldSubfile     = 255
	tagWidth          = 256
	tagHeight         = 257
	tagBits           = 258
	tagCompression    = 259
	tagPhotometric    = 262
	tagFillOrder      = 266
	tagStripOffsets   = 273
	tagOrientation    = 274
	tagSamples        = 277
	tagRowsPerStrip   = 278
	tagStripCounts    = 279
	tagXResolution    = 282
	tagYResolution    = 283
	tagPlanar         = 284
	tagResolutionIn   = 296
	tagTransfer       = 301
	tagPredictor      = 317
	tagWhitePoint     = 318
	tagPrimaries      = 319
	tagColourMap      = 320
	tagTileWidth      = 322
	tagTileHeight     = 323
	tagTileOffsets    = 324
	tagTileCounts     = 325
	tagSubDirectories = 330
	tagExtraSamples   = 338
	tagSampleFormat   = 339
	tagLargest        = 341
	tagJPEGTables     = 347
	tagICC            = 34675

	typeByte      = 1
	typeShort     = 3
	typeLong      = 4
	typeRational  = 5
	typeUndefined = 7
	typeSigned2   = 8
	typeSigned4   = 9
	typeFloat     = 11
	typeDouble    = 12
	typeDirectory = 13
	typeLong8     = 16 // of BigTIFF, as are the next two
	typeSigned8   = 17
	typeOffset8   = 18

	maxDirectory     = 4096
	resolutionInches = 2
	resolutionCM     = 3
)

// wanted are the tags whose values are read.
var wanted = []int{
	tagSubfile, tagOldSubfile, tagWidth, tagHeight, tagBits, tagCompression, tagPhotometric, tagFillOrder, tagStripOffsets, tagOrientation, tagSamples,
	tagRowsPerStrip, tagStripCounts, tagXResolution, tagYResolution, tagPlanar, tagResolutionIn, tagTransfer, tagPredictor, tagWhitePoint,
	tagPrimaries, tagColourMap, tagTileWidth, tagTileHeight, tagTileOffsets, tagTileCounts, tagSubDirectories, tagExtraSamples,
	tagSampleFormat, tagLargest, tagJPEGTables, tagICC,
}

// maxValues bounds the values of one tag, in bytes: the offsets of tiles of
// 16 × 16 pixels in a scan of MaxPixels take 6.25 million of 4 bytes, 12.5 million of
// the 8 bytes of a BigTIFF, a profile maxICCBytes.
const maxValues = 16 << 20

// header is the beginning of a TIFF file or an Exif block: ordinary (TIFF 6.0, page 13)
// or BigTIFF, whose offsets and counts have 8 bytes.
type header struct {
	order binary.ByteOrder
	big   bool
	first int64 // where the first directory lies
}

// Lengths in bytes of the number of entries, of an entry, and of a value or offset.
func (h header) lengths() (count, entry, offset int64) {
	if h.big {
		return 8, 20, 8
	}
	return 2, 12, 4
}

// number reads an offset or a count.
func (h header) number(b []byte) int64 {
	if h.big {
		return int64(min(h.order.Uint64(b), math.MaxInt64/2))
	}
	return int64(h.order.Uint32(b))
}

func readHeader(data Data) (h header, refusal *Error) {
	if data.Size() < 8 {
		return h, malformed("it ends within its header")
	}
	head, refusal := part(data, 0, min(data.Size(), 16))
	if refusal != nil {
		return h, refusal
	}
	h.order = binary.LittleEndian
	if head[0] == 'M' {
		h.order = binary.BigEndian
	}
	h.big = h.order.Uint16(head[2:]) == 43
	switch {
	case !h.big:
		h.first = h.number(head[4:])
	case len(head) < 16:
		return h, malformed("it ends within its header")
	case h.order.Uint16(head[4:]) != 8:
		return h, malformed("its header is damaged")
	default:
		h.first = h.number(head[8:])
	}
	return h, nil
}

// directory is one directory of a TIFF file or an Exif block.
type directory struct {
	order   binary.ByteOrder
	entries map[int]entry
	next    int64 // where the next one lies, 0 for none
	short   bool  // an entry points outside the data
}

type entry struct {
	kind  int
	count int
	data  []byte
}

// readDirectory reads the directory at an offset. Entries of an unknown type and those
// that are not wanted are left out; so are those that point outside the data.
func readDirectory(data Data, h header, at int64) (d directory, refusal *Error) {
	length := data.Size()
	countBytes, entryBytes, offsetBytes := h.lengths()
	d = directory{order: h.order, entries: map[int]entry{}}
	if at+countBytes > length {
		return d, malformed("it ends before its directory, which should begin at byte %d of %d", at, length)
	}
	count, refusal := part(data, at, countBytes)
	if refusal != nil {
		return d, refusal
	}
	n := int64(h.order.Uint16(count))
	if h.big {
		n = h.number(count)
	}
	if n > maxDirectory {
		return d, malformed("its directory is damaged")
	}
	end := at + countBytes + n*entryBytes
	if end > length {
		return d, malformed("it ends within its directory")
	}
	table, refusal := part(data, at+countBytes, n*entryBytes)
	if refusal != nil {
		return d, refusal
	}
	for e := range slices.Chunk(table, int(entryBytes)) {
		tag, kind, values := int(h.order.Uint16(e)), int(h.order.Uint16(e[2:])), e[4+offsetBytes:]
		count, from := h.number(e[4:]), h.number(values)
		unit := int64(sizeOfType(kind))
		if unit == 0 {
			continue
		}
		outside := count > length || count*unit > offsetBytes && from+count*unit > length
		size := count * unit
		switch {
		case outside:
			d.short = true
			continue
		case !slices.Contains(wanted, tag):
			continue
		case size > maxValues:
			return d, malformed("its directory is damaged")
		}
		value := values
		if size > offsetBytes {
			if value, refusal = part(data, from, size); refusal != nil {
				return d, refusal
			}
		}
		d.entries[tag] = entry{kind, int(count), value[:size]}
	}
	if end+offsetBytes <= length {
		link, refusal := part(data, end, offsetBytes)
		if refusal != nil {
			return d, refusal
		}
		d.next = h.number(link)
	}
	return d, nil
}

// sizeOfType is the length of one value; TIFF 6.0, page 15, and BigTIFF.
func sizeOfType(kind int) int {
	switch kind {
	case typeByte, 2, 6, typeUndefined:
		return 1
	case typeShort, typeSigned2:
		return 2
	case typeLong, typeSigned4, typeFloat, typeDirectory:
		return 4
	case typeRational, 10, typeDouble, typeLong8, typeSigned8, typeOffset8:
		return 8
	}
	return 0
}

// value returns value i of a tag, or otherwise where it has none; 0 for less than that. A number beyond what
// any file could hold comes out as the largest that can be added to another.
func (d directory) value(tag, i, otherwise int) int {
	e := d.entries[tag]
	if i >= e.count {
		return otherwise
	}
	switch e.kind {
	case typeByte:
		return int(e.data[i])
	case typeShort:
		return int(d.order.Uint16(e.data[2*i:]))
	case typeSigned2:
		return max(int(int16(d.order.Uint16(e.data[2*i:]))), 0)
	case typeSigned4:
		return max(int(int32(d.order.Uint32(e.data[4*i:]))), 0)
	case typeLong, typeDirectory:
		return int(d.order.Uint32(e.data[4*i:]))
	case typeLong8, typeOffset8:
		return int(min(d.order.Uint64(e.data[8*i:]), math.MaxInt64/2))
	}
	return otherwise
}

// real returns value i of a tag as a number with a fraction, NaN where it has none.
func (d directory) real(tag, i int) float64 {
	e := d.entries[tag]
	if i >= e.count {
		return math.NaN()
	}
	switch e.kind {
	case typeRational:
		return float64(d.order.Uint32(e.data[8*i:])) / float64(d.order.Uint32(e.data[8*i+4:]))
	case typeFloat:
		return float64(math.Float32frombits(d.order.Uint32(e.data[4*i:])))
	case typeDouble:
		return math.Float64frombits(d.order.Uint64(e.data[8*i:]))
	case typeByte, typeShort, typeLong:
		return float64(d.value(tag, i, 0))
	}
	return math.NaN()
}

func (d directory) count(tag int) int { return d.entries[tag].count }

// ppi returns the resolution across and down in pixels per inch, 0 for none.
func (d directory) ppi() (across, down float64) {
	return d.resolution(tagXResolution), d.resolution(tagYResolution)
}

func (d directory) resolution(tag int) float64 {
	v := d.real(tag, 0)
	switch d.value(tagResolutionIn, 0, resolutionInches) {
	case resolutionInches:
	case resolutionCM:
		v *= 2.54
	default:
		return 0
	}
	return plausiblePPI(v)
}

// plausiblePPI returns 0 for a resolution no scanner has.
func plausiblePPI(v float64) float64 {
	if math.IsNaN(v) || v < 1 || v > 1e6 {
		return 0
	}
	return v
}

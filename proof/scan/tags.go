package scan

import (
	"encoding/binary"
	"math"
	"slices"
)

// Tags of TIFF 6.0 (page 117) and of the ICC profile (ICC.1:2010, annex B.4).
const (
	tagSubfile       = 254
	tagWidth         = 256
	tagHeight        = 257
	tagBits          = 258
	tagCompression   = 259
	tagPhotometric   = 262
	tagStripOffsets  = 273
	tagOrientation   = 274
	tagSamples       = 277
	tagStripCounts   = 279
	tagXResolution   = 282
	tagYResolution   = 283
	tagPlanar        = 284
	tagResolutionIn  = 296
	tagColourMap     = 320
	tagTileOffsets   = 324
	tagTileCounts    = 325
	tagExtraSamples  = 338
	tagSampleFormat  = 339
	tagICC           = 34675
	typeByte         = 1
	typeShort        = 3
	typeLong         = 4
	typeRational     = 5
	typeUndefined    = 7
	maxDirectory     = 4096
	directoryEntry   = 12
	resolutionInches = 2
	resolutionCM     = 3
)

// wanted are the tags whose values are read.
var wanted = []int{
	tagSubfile, tagWidth, tagHeight, tagBits, tagCompression, tagPhotometric, tagStripOffsets, tagOrientation, tagSamples,
	tagStripCounts, tagXResolution, tagYResolution, tagPlanar, tagResolutionIn, tagColourMap, tagTileOffsets, tagTileCounts, tagExtraSamples, tagSampleFormat, tagICC,
}

// maxValues bounds the values of one tag, in bytes: the offsets of tiles of
// 16 × 16 pixels in a scan of MaxPixels take 6.25 million, a profile maxICCBytes.
const maxValues = 16 << 20

// directory is the first directory of a TIFF file or an Exif block.
type directory struct {
	order   binary.ByteOrder
	entries map[int]entry
}

type entry struct {
	kind  int
	count int
	data  []byte
}

// readDirectory walks the first directory. Entries of an unknown type and those
// that are not wanted are left out; so are those that point outside the data,
// which short reports.
func readDirectory(data Data) (d directory, short bool, refusal *Error) {
	length := data.Size()
	if length < 8 {
		return d, false, malformed("it ends within its header")
	}
	head, refusal := part(data, 0, 8)
	if refusal != nil {
		return d, false, refusal
	}
	d = directory{order: binary.LittleEndian, entries: map[int]entry{}}
	if head[0] == 'M' {
		d.order = binary.BigEndian
	}
	at := int64(d.order.Uint32(head[4:]))
	if at+2 > length {
		return d, false, malformed("it ends before its directory, which should begin at byte %d of %d", at, length)
	}
	count, refusal := part(data, at, 2)
	if refusal != nil {
		return d, false, refusal
	}
	n := int64(d.order.Uint16(count))
	if n > maxDirectory {
		return d, false, malformed("its directory is damaged")
	}
	if at+2+n*directoryEntry > length {
		return d, false, malformed("it ends within its directory")
	}
	table, refusal := part(data, at+2, n*directoryEntry)
	if refusal != nil {
		return d, false, refusal
	}
	for e := range slices.Chunk(table, directoryEntry) {
		tag, kind, count := int(d.order.Uint16(e)), int(d.order.Uint16(e[2:])), int64(d.order.Uint32(e[4:]))
		size := count * int64(sizeOfType(kind))
		from := int64(d.order.Uint32(e[8:]))
		switch {
		case sizeOfType(kind) == 0:
			continue
		case size > 4 && from+size > length:
			short = true
			continue
		case !slices.Contains(wanted, tag):
			continue
		case size > maxValues:
			return d, short, malformed("its directory is damaged")
		}
		value := e[8:12]
		if size > 4 {
			if value, refusal = part(data, from, size); refusal != nil {
				return d, short, refusal
			}
		}
		d.entries[tag] = entry{kind, int(count), value[:size]}
	}
	return d, short, nil
}

// maxPictures bounds how far a chain of directories is followed.
const maxPictures = 100

// sizeOfType is the length of one value; TIFF 6.0, page 15.
func sizeOfType(kind int) int {
	switch kind {
	case typeByte, 2, 6, typeUndefined:
		return 1
	case typeShort, 8:
		return 2
	case typeLong, 9, 11, 13:
		return 4
	case typeRational, 10, 12:
		return 8
	}
	return 0
}

// value returns value i of a tag, or otherwise where it has none.
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
	case typeLong:
		return int(d.order.Uint32(e.data[4*i:]))
	}
	return otherwise
}

func (d directory) count(tag int) int { return d.entries[tag].count }

// ppi returns the resolution across and down in pixels per inch, 0 for none.
func (d directory) ppi() (across, down float64) {
	return d.resolution(tagXResolution), d.resolution(tagYResolution)
}

func (d directory) resolution(tag int) float64 {
	e := d.entries[tag]
	if e.kind != typeRational || e.count < 1 {
		return 0
	}
	v := float64(d.order.Uint32(e.data)) / float64(d.order.Uint32(e.data[4:]))
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

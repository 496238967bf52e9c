package scan

import (
	"encoding/binary"
	"math"
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
	tagPlanar        = 284
	tagResolutionIn  = 296
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

// directory is the first directory of a TIFF file or an Exif block: each
// entry's values are a part of the file's own bytes.
type directory struct {
	order   binary.ByteOrder
	entries map[int]entry
}

type entry struct {
	kind  int
	count int
	data  []byte
}

// readDirectory walks the first directory. Entries of an unknown type are left
// out; so are those that point outside the data, which short reports.
func readDirectory(data []byte) (d directory, short bool, refusal *Error) {
	if len(data) < 8 {
		return d, false, malformed("it ends within its header")
	}
	d = directory{order: binary.LittleEndian, entries: map[int]entry{}}
	if data[0] == 'M' {
		d.order = binary.BigEndian
	}
	at := uint64(d.order.Uint32(data[4:]))
	if at+2 > uint64(len(data)) {
		return d, false, malformed("it ends before its directory, which should begin at byte %d of %d", at, len(data))
	}
	n := int(d.order.Uint16(data[at:]))
	if n > maxDirectory {
		return d, false, malformed("its directory is damaged")
	}
	table := data[at+2:]
	if len(table) < n*directoryEntry {
		return d, false, malformed("it ends within its directory")
	}
	for i := range n {
		e := table[i*directoryEntry:][:directoryEntry]
		kind, count := int(d.order.Uint16(e[2:])), uint64(d.order.Uint32(e[4:]))
		if sizeOfType(kind) == 0 {
			continue
		}
		size := count * uint64(sizeOfType(kind))
		value := e[8:12]
		if size > 4 {
			from := uint64(d.order.Uint32(e[8:]))
			if from+size > uint64(len(data)) {
				short = true
				continue
			}
			value = data[from : from+size]
		} else {
			value = value[:size]
		}
		d.entries[int(d.order.Uint16(e))] = entry{kind, int(count), value}
	}
	return d, short, nil
}

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

// ppi returns the resolution across in pixels per inch, 0 for none.
func (d directory) ppi() float64 {
	e := d.entries[tagXResolution]
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

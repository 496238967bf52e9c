package scan

import (
	"bytes"
	"cmp"
	"compress/lzw"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"maps"
	"slices"
)

// tiffFile describes a TIFF to write: interleaved samples, one strip unless
// rows says otherwise.
type tiffFile struct {
	w, h, bits, samples int
	big                 bool // byte order
	pixels              []uint16
	rows                int         // rows a strip; 0 for all in one
	compression         int         // 0 for none
	tiled               bool        // strips are written as tiles: w and rows multiples of 16
	tags                map[int]any // further or overruling tags: int, []int, [2]int (rational) or []byte
	drop                []int       // tags to leave out
}

func (t tiffFile) bytes() []byte {
	var order binary.AppendByteOrder = binary.LittleEndian
	head := "II*\x00"
	if t.big {
		order, head = binary.BigEndian, "MM\x00*"
	}
	out := order.AppendUint32([]byte(head), 0)
	rows := t.rows
	if rows == 0 {
		rows = t.h
	}
	var offsets, counts []int
	for y := 0; y < t.h; y += rows {
		var strip []byte
		for _, v := range t.pixels[min(y*t.w*t.samples, len(t.pixels)):min(min(y+rows, t.h)*t.w*t.samples, len(t.pixels))] {
			if t.bits == 16 {
				strip = order.AppendUint16(strip, v)
			} else {
				strip = append(strip, byte(v))
			}
		}
		strip = packed(strip, t.compression)
		offsets, counts = append(offsets, len(out)), append(counts, len(strip))
		out = append(out, strip...)
	}
	photometric := 1
	if t.samples >= 3 {
		photometric = photometricRGB
	}
	tags := map[int]any{
		tagWidth: t.w, tagHeight: t.h, tagBits: slices.Repeat([]int{t.bits}, t.samples), tagCompression: cmp.Or(t.compression, compressionNone),
		tagPhotometric: photometric, tagSamples: t.samples, 278: rows, tagStripOffsets: offsets, tagStripCounts: counts,
	}
	if t.tiled {
		delete(tags, tagStripOffsets)
		delete(tags, tagStripCounts)
		maps.Copy(tags, map[int]any{322: t.w, 323: rows, tagTileOffsets: offsets, tagTileCounts: counts})
	}
	maps.Copy(tags, t.tags)
	for _, tag := range t.drop {
		delete(tags, tag)
	}
	var table []byte
	for _, tag := range slices.Sorted(maps.Keys(tags)) {
		var kind, count int
		var body []byte
		switch v := tags[tag].(type) {
		case int:
			kind, count, body = typeLong, 1, order.AppendUint32(nil, uint32(v))
		case []int:
			kind, count = typeLong, len(v)
			for _, n := range v {
				body = order.AppendUint32(body, uint32(n))
			}
			if tag == tagBits {
				kind, body = typeShort, nil
				for _, n := range v {
					body = order.AppendUint16(body, uint16(n))
				}
			}
		case [2]int:
			kind, count, body = typeRational, 1, order.AppendUint32(order.AppendUint32(nil, uint32(v[0])), uint32(v[1]))
		case []byte:
			kind, count, body = typeUndefined, len(v), v
		}
		table = order.AppendUint32(order.AppendUint16(order.AppendUint16(table, uint16(tag)), uint16(kind)), uint32(count))
		if len(body) > 4 {
			table = order.AppendUint32(table, uint32(len(out)))
			out = append(out, body...)
		} else {
			table = append(table, append(body, 0, 0, 0, 0)[:4]...)
		}
	}
	at := order.AppendUint32(nil, uint32(len(out)))
	copy(out[4:], at)
	out = order.AppendUint16(out, uint16(len(tags)))
	return order.AppendUint32(append(out, table...), 0)
}

// planar is the same picture with each channel in a strip of its own.
func (t tiffFile) planar() tiffFile {
	p := t
	p.samples, p.h, p.rows = 1, t.h*t.samples, t.h
	p.pixels = nil
	for c := range t.samples {
		for i := c; i < len(t.pixels); i += t.samples {
			p.pixels = append(p.pixels, t.pixels[i])
		}
	}
	photometric := 1
	if t.samples >= 3 {
		photometric = photometricRGB
	}
	p.tags = map[int]any{tagHeight: t.h, tagBits: slices.Repeat([]int{t.bits}, t.samples), tagSamples: t.samples, tagPhotometric: photometric}
	maps.Copy(p.tags, t.tags)
	p.tags[tagPlanar] = planarSeparate
	return p
}

// packed compresses a strip. Its LZW is good for strips below 250 bytes: the
// general encoder widens its codes one code later than TIFF does.
func packed(strip []byte, compression int) []byte {
	var out bytes.Buffer
	switch compression {
	case compressionDeflate, compressionDeflate0:
		w, _ := zlib.NewWriterLevel(&out, zlib.BestSpeed)
		w.Write(strip)
		w.Close()
	case compressionLZW:
		w := lzw.NewWriter(&out, lzw.MSB, 8)
		w.Write(strip)
		w.Close()
	case compressionPackBits: // runs of literals
		for part := range slices.Chunk(strip, 128) {
			out.WriteByte(byte(len(part) - 1))
			out.Write(part)
		}
	default:
		return strip
	}
	return out.Bytes()
}

// noise gives n repeatable codes, all below limit.
func noise(n, limit int) []uint16 {
	out := make([]uint16, n)
	state := uint32(1)
	for i := range out {
		state = state*1664525 + 1013904223
		out[i] = uint16(int(state>>16) % limit)
	}
	return out
}

func pngFile(img image.Image, chunks ...[]byte) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err)
	}
	const header = 8 + 25
	out := bytes.Clone(b.Bytes()[:header])
	for _, c := range chunks {
		out = append(out, c...)
	}
	return append(out, b.Bytes()[header:]...)
}

func pngChunk(kind string, body []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// profile builds an ICC profile with a description and the given tags.
func profile(space, pcs string, tags map[string][]byte) []byte {
	desc := append(binary.BigEndian.AppendUint32([]byte("desc\x00\x00\x00\x00"), 8), "a scale\x00"...)
	all := map[string][]byte{"desc": desc}
	maps.Copy(all, tags)
	out := make([]byte, iccHeader)
	copy(out[iccSpaceAt:], space)
	copy(out[iccPCSAt:], pcs)
	copy(out[iccSignature:], "acsp")
	out = binary.BigEndian.AppendUint32(out, uint32(len(all)))
	at := len(out) + iccTagEntry*len(all)
	var body []byte
	for _, tag := range slices.Sorted(maps.Keys(all)) {
		out = append(out, tag...)
		out = binary.BigEndian.AppendUint32(out, uint32(at+len(body)))
		out = binary.BigEndian.AppendUint32(out, uint32(len(all[tag])))
		body = append(body, all[tag]...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	out = append(out, body...)
	binary.BigEndian.PutUint32(out, uint32(len(out)))
	return out
}

func curvTag(values ...int) []byte {
	out := binary.BigEndian.AppendUint32([]byte("curv\x00\x00\x00\x00"), uint32(len(values)))
	for _, v := range values {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	return out
}

func paraTag(kind int, values ...float64) []byte {
	out := append([]byte("para\x00\x00\x00\x00"), 0, byte(kind), 0, 0)
	for _, v := range values {
		out = binary.BigEndian.AppendUint32(out, uint32(int32(v*65536)))
	}
	return out
}

func xyzTag(x, y, z float64) []byte {
	out := []byte("XYZ \x00\x00\x00\x00")
	for _, v := range []float64{x, y, z} {
		out = binary.BigEndian.AppendUint32(out, uint32(int32(v*65536)))
	}
	return out
}

// Decode reads a scan that lies in memory, as DecodeFrom does.
func Decode(name string, data []byte, opt Options) (*Scan, error) {
	return DecodeFrom(name, Bytes(data), opt)
}

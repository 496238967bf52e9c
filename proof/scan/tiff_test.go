package scan

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestTIFFPixelsComeThrough(t *testing.T) {
	for _, samples := range []int{1, 3} {
		for _, bits := range []int{8, 16} {
			for _, big := range []bool{false, true} {
				for _, compression := range []int{compressionNone, compressionLZW, compressionDeflate, compressionDeflate0, compressionPackBits} {
					f := tiffFile{w: 19, h: 23, bits: bits, samples: samples, big: big, compression: compression, rows: 2}
					f.pixels = noise(f.w*f.h*samples, 1<<bits)
					name := fmt.Sprintf("%d×%d bits big %v compression %d", samples, bits, big, compression)
					s, err := Decode(name, f.bytes(), Options{})
					if err != nil {
						t.Fatal(err)
					}
					if s.Kind != TIFF || s.W != 19 || s.H != 23 || s.Bits != bits || s.Channels != samples || len(s.Curves) != samples {
						t.Fatalf("%s: %+v", name, s)
					}
					unit := uint16(1)
					if bits == 8 {
						unit = 257
					}
					for c, p := range s.Planes {
						for i, v := range p.Pix {
							if want := f.pixels[i*samples+c] * unit; v != want {
								t.Fatalf("%s: channel %d, pixel %d: %d, want %d", name, c, i, v, want)
							}
						}
					}
				}
			}
		}
	}
}

func TestTIFFTiles(t *testing.T) {
	f := tiffFile{w: 32, h: 48, bits: 16, samples: 1, rows: 16, tiled: true, pixels: noise(32*48, 65536)}
	s, err := Decode("tiles.tif", f.bytes(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(s.Planes[0].Pix, f.pixels) {
		t.Error("the pixels of a tiled file differ")
	}
	f.tags = map[int]any{tagTileOffsets: []int{8, 1032, 1 << 20}}
	checkRefusal(t, "tiles.tif", f.bytes(), "ends before its last row", false)
}

// Where the lengths of strips or tiles are missing, nought or beyond the file's end, the layout says
// where their pixels lie, as libtiff has it too; what is packed ends of itself.
func TestTIFFLengthsOfPieces(t *testing.T) {
	for _, c := range []struct {
		what        string
		compression int
		counts      []int // nil for none
	}{
		{"nought", compressionNone, []int{0, 0, 0}}, {"nought", compressionDeflate, []int{0, 0, 0}}, {"nought", compressionPackBits, []int{0, 0, 0}},
		{"none", compressionNone, nil}, {"none", compressionDeflate, nil}, {"none", compressionPackBits, nil},
		{"of the first only", compressionNone, []int{1024}}, {"of the first nought", compressionNone, []int{0, 1024, 1024}},
		{"beyond the end", compressionNone, []int{1 << 20, 1 << 20, 1 << 20}},
	} {
		for counts, tiled := range map[int]bool{tagStripCounts: false, tagTileCounts: true} {
			f := tiffFile{w: 32, h: 48, bits: 16, samples: 1, rows: 16, tiled: tiled, compression: c.compression, pixels: noise(32*48, 65536)}
			if f.tags = map[int]any{counts: c.counts}; c.counts == nil {
				f.tags, f.drop = nil, []int{counts}
			}
			if s, err := Decode(c.what, f.bytes(), Options{}); err != nil || !slices.Equal(s.Planes[0].Pix, f.pixels) {
				t.Errorf("tiled %v, compression %d, lengths %s: other pixels, or error %v", tiled, c.compression, c.what, err)
			}
		}
	}
}

// Tiles whose offsets and lengths stand where those of strips do, as libtiff reads them too.
func TestTIFFTilesAmongStripTags(t *testing.T) {
	f := tiffFile{w: 32, h: 48, bits: 16, samples: 1, rows: 16, tiled: true, pixels: noise(32*48, 65536),
		tags: map[int]any{tagStripOffsets: []int{8, 1032, 2056}, tagStripCounts: []int{1024, 1024, 1024}}, drop: []int{tagTileOffsets, tagTileCounts, tagRowsPerStrip}}
	if s, err := Decode("tiles.tif", f.bytes(), Options{}); err != nil || !slices.Equal(s.Planes[0].Pix, f.pixels) {
		t.Errorf("%v", err)
	}
}

// What is read of a packed strip or tile is bounded by its pixels: thousands of them that all
// claim to be as long as the file would be read for hours.
func TestTIFFPiecesThatClaimTheWholeFile(t *testing.T) {
	const tiles = 1 << 10
	offsets, counts := make([]int, tiles), make([]int, tiles)
	var first []uint16 // one tile, and what stands for much more of a file
	for _, v := range packed(make([]byte, 256), compressionDeflate) {
		first = append(first, uint16(v))
	}
	for i := range tiles {
		offsets[i], counts[i] = 8, 1<<20
	}
	for _, told := range []bool{true, false} {
		f := tiffFile{w: 1 << 20, h: 1, bits: 8, samples: 1, pixels: append(first, make([]uint16, 1<<20-len(first))...),
			tags: map[int]any{tagWidth: 512, tagHeight: 512, tagCompression: compressionDeflate, tagTileWidth: 16, tagTileHeight: 16, tagTileOffsets: offsets}}
		if told {
			f.tags[tagTileCounts] = counts
		}
		data := &countedData{Data: Bytes(f.bytes())}
		if _, err := DecodeFrom("tiles.tif", data, Options{}); err != nil {
			t.Fatal(err)
		}
		if most := int64(tiles) * 1 << 18; data.read > most {
			t.Errorf("lengths told %v: %d bytes were read of a file of %d", told, data.read, data.Size())
		}
	}
}

// countedData counts what is read of a file.
type countedData struct {
	Data
	read int64
}

func (d *countedData) ReadAt(p []byte, at int64) (int, error) {
	d.read += int64(len(p))
	return d.Data.ReadAt(p, at)
}

func TestTIFFMinIsWhiteIsTurnedOver(t *testing.T) {
	f := tiffFile{w: 2, h: 1, bits: 16, samples: 1, pixels: []uint16{0, 60000}, tags: map[int]any{tagPhotometric: 0}}
	s, err := Decode("white.tif", f.bytes(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if want := []uint16{65535, 5535}; !slices.Equal(s.Planes[0].Pix, want) {
		t.Errorf("%v, want %v", s.Planes[0].Pix, want)
	}
}

// Differences along a row (TIFF 6.0, page 64) are undone.
func TestTIFFPredictor(t *testing.T) {
	for _, samples := range []int{1, 3} {
		for _, bits := range []int{8, 16} {
			for _, big := range []bool{false, true} {
				f := tiffFile{w: 19, h: 23, bits: bits, samples: samples, big: big, compression: compressionDeflate, rows: 4, tags: map[int]any{317: 2}}
				want := noise(f.w*f.h*samples, 1<<bits)
				f.pixels = slices.Clone(want)
				for i := len(want) - 1; i >= 0; i-- {
					if i%(f.w*samples) >= samples {
						f.pixels[i] = (want[i] - want[i-samples]) & (1<<bits - 1)
					}
				}
				s, err := Decode("differences.tif", f.bytes(), Options{})
				if err != nil {
					t.Fatal(err)
				}
				unit := uint16(1)
				if bits == 8 {
					unit = 257
				}
				for c, p := range s.Planes {
					for i, v := range p.Pix {
						if v != want[i*samples+c]*unit {
							t.Fatalf("%d × %d bits, big %v: channel %d, pixel %d: %d, want %d", samples, bits, big, c, i, v, want[i*samples+c]*unit)
						}
					}
				}
			}
		}
	}
}

// Differences belong to LZW and Deflate: with other compressions libtiff takes the values as they
// are, whatever the tag says.
func TestTIFFPredictorWhereThereIsNone(t *testing.T) {
	for _, compression := range []int{compressionNone, compressionPackBits} {
		f := tiffFile{w: 8, h: 8, bits: 16, samples: 1, compression: compression, pixels: noise(64, 65536), tags: map[int]any{tagPredictor: predictorWhole}}
		if s, err := Decode("plain.tif", f.bytes(), Options{}); err != nil || !slices.Equal(s.Planes[0].Pix, f.pixels) {
			t.Errorf("compression %d: other pixels, or error %v", compression, err)
		}
	}
}

// Sizes in signed numbers are read as libtiff reads them.
func TestTIFFSignedSizes(t *testing.T) {
	f := tiffFile{w: 9, h: 7, bits: 16, samples: 1, pixels: noise(63, 65536)}
	data := f.bytes()
	d := binary.LittleEndian
	for e := d.Uint32(data[4:]) + 2; e+12 < uint32(len(data)); e += 12 {
		switch d.Uint16(data[e:]) {
		case tagWidth:
			d.PutUint16(data[e+2:], typeSigned4)
		case tagHeight:
			d.PutUint16(data[e+2:], typeSigned2)
		}
	}
	if s, err := Decode("signed.tif", data, Options{}); err != nil || s.W != 9 || s.H != 7 || !slices.Equal(s.Planes[0].Pix, f.pixels) {
		t.Errorf("%v", err)
	}
	d.PutUint32(data[d.Uint32(data[4:])+2+8:], 0xffffffff)
	checkRefusal(t, "negative.tif", data, "0 × 7 pixels", false)
}

// A file of several pictures says so; reduced copies are none.
func TestTIFFOfSeveralPictures(t *testing.T) {
	one := tiffFile{w: 8, h: 8, bits: 16, samples: 1, pixels: noise(64, 65536)}.bytes()
	d := binary.LittleEndian
	follow := func(data []byte, subfile uint32) []byte {
		at := uint32(len(data))
		link := int(d.Uint32(data[4:]))
		for { // the end of the chain
			link += 2 + 12*int(d.Uint16(data[link:]))
			next := int(d.Uint32(data[link:]))
			if next == 0 {
				break
			}
			link = next
		}
		d.PutUint32(data[link:], at)
		data = d.AppendUint16(data, 1)
		data = d.AppendUint16(d.AppendUint16(data, tagSubfile), typeLong)
		data = d.AppendUint32(d.AppendUint32(data, 1), subfile)
		return d.AppendUint32(data, 0)
	}
	two := follow(bytes.Clone(one), 0)
	for name, c := range map[string]struct {
		data []byte
		want int
	}{"one": {one, 1}, "two": {two, 2}, "with a thumbnail": {follow(bytes.Clone(one), 1), 1}, "three": {follow(bytes.Clone(two), 2), 3}} {
		s, err := Decode(name, c.data, Options{})
		if err != nil || s.Pictures != c.want {
			t.Errorf("%s: %d pictures, error %v", name, s.Pictures, err)
		}
	}
	ring := bytes.Clone(two)
	d.PutUint32(ring[len(ring)-4:], uint32(len(one))) // the second follows itself
	if s, err := Decode("ring", ring, Options{}); err != nil || s.Pictures != 2 {
		t.Errorf("a chain that runs back: %+v, %v", s, err)
	}
}

func TestTIFFResolution(t *testing.T) {
	for _, c := range []struct {
		unit int
		res  [2]int
		want float64
	}{{2, [2]int{2400, 1}, 2400}, {3, [2]int{1000, 1}, 2540}, {1, [2]int{300, 1}, 0}, {2, [2]int{300, 0}, 0}, {2, [2]int{0, 1}, 0}} {
		f := tiffFile{w: 1, h: 1, bits: 16, samples: 1, pixels: []uint16{1}, tags: map[int]any{tagXResolution: c.res, tagResolutionIn: c.unit}}
		s, err := Decode("a.tif", f.bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s.PPI != c.want {
			t.Errorf("unit %d, %v: %g ppi, want %g", c.unit, c.res, s.PPI, c.want)
		}
	}
}

func TestTIFFRefusals(t *testing.T) {
	grey := tiffFile{w: 8, h: 8, bits: 16, samples: 1, pixels: noise(64, 65536)}
	rgb := tiffFile{w: 8, h: 8, bits: 16, samples: 3, pixels: noise(192, 65536)}
	with := func(f tiffFile, tags map[int]any) []byte { f.tags = tags; return f.bytes() }
	whole := grey.bytes()
	for _, c := range []struct {
		name        string
		data        []byte
		reason      string
		unsupported bool
	}{
		{"planar.tif", with(rgb, map[int]any{tagPlanar: 2}), "should have 3 strips or tiles, but has 1", false},
		{"cmyk.tif", with(tiffFile{w: 8, h: 8, bits: 8, samples: 4, pixels: noise(256, 256)}, map[int]any{tagPhotometric: 5}), "CMYK", true},
		{"float.tif", with(grey, map[int]any{tagSampleFormat: 3}), "floating-point values lie above 1", true},
		{"float8.tif", with(tiffFile{w: 8, h: 8, bits: 8, samples: 1, pixels: noise(64, 256)}, map[int]any{tagSampleFormat: 3}), "floating-point numbers of 8 bits", true},
		{"signed.tif", with(grey, map[int]any{tagSampleFormat: 2}), "signed", true},
		{"jpeg16.tif", with(grey, map[int]any{tagCompression: 7}), "compressed by JPEG with 16 bits", true},
		{"jpeg6.tif", with(grey, map[int]any{tagCompression: 6}), "JPEG compression of the first draft", true},
		{"nojpeg.tif", with(tiffFile{w: 8, h: 8, bits: 8, samples: 1, pixels: noise(64, 128)}, map[int]any{tagCompression: 7}), "ends before its pixels", false},
		{"zstd.tif", with(grey, map[int]any{tagCompression: 50000}), "Zstandard", true},
		{"jp2.tif", with(grey, map[int]any{tagCompression: 34712}), "JPEG 2000", true},
		{"jxl.tif", with(grey, map[int]any{tagCompression: 50002}), "JPEG XL", true},
		{"raw.tif", with(grey, map[int]any{tagPhotometric: 32803}), "raw file of a camera", true},
		{"mixed.tif", with(rgb, map[int]any{tagBits: []int{16, 8, 16}}), "channels are of 16 bits and of 8 bits", true},
		{"differences.tif", with(tiffFile{w: 8, h: 8, bits: 16, samples: 1, pixels: noise(64, 65536), compression: compressionDeflate}, map[int]any{tagPredictor: 3}), "differences", true},
		{"unseen.tif", tiffFile{w: 8, h: 8, bits: 16, samples: 2, pixels: make([]uint16, 128), tags: map[int]any{tagExtraSamples: 2}}.bytes(), "all of it is transparent", true},
		{"norows.tif", with(grey, map[int]any{tagRowsPerStrip: 0}), "no rows", false},
		{"tiles0.tif", with(tiffFile{w: 16, h: 16, bits: 16, samples: 1, rows: 16, tiled: true, pixels: noise(256, 65536)}, map[int]any{tagTileWidth: 0}), "tiles have 0", false},
		{"thumb.tif", with(grey, map[int]any{tagSubfile: 1}), "reduced copy", true},
		{"oldthumb.tif", with(grey, map[int]any{tagOldSubfile: 2}), "reduced copy", true},
		{"odd.tif", with(grey, map[int]any{tagCompression: 4711}), "compression 4711", true},
		{"lab.tif", with(rgb, map[int]any{tagPhotometric: 8}), "interpretation 8", true},
		{"bilevel.tif", with(grey, map[int]any{tagBits: 1}), "1 bit a channel", true},
		{"24.tif", with(grey, map[int]any{tagBits: 24}), "24 bits a channel", true},
		{"big.tif", []byte("II+\x00\x08\x00\x00\x00rest of it"), "ends before its directory", false},
		{"bighead.tif", []byte("MM\x00+\x00\x08\x00\x00\x00\x00"), "ends within its header", false},
		{"billion.tif", with(grey, map[int]any{tagWidth: 31623, tagHeight: 31623}), "1000 megapixels", true},
		{"wide.tif", with(grey, map[int]any{tagWidth: 10000, tagHeight: 10000}), "too few", false},
		{"nothing.tif", []byte("II*\x00\x08\x00\x00\x00\x00\x00\x00\x00\x00\x00"), "0 × 0 pixels", false},
		{"none.tif", with(grey, map[int]any{tagWidth: 0}), "0 × 8 pixels", false},
		{"strips.tif", with(grey, map[int]any{tagStripOffsets: 1 << 20}), "ends before its last row", false},
		{"sparse.tif", with(grey, map[int]any{tagStripOffsets: 0, tagStripCounts: 0}), "a strip or tile of its pixels is left out", false},
		{"head.tif", whole[:6], "ends within its header", false},
		{"cut.tif", whole[:len(whole)-30], "ends within its directory", false},
		{"early.tif", whole[:100], "ends before its directory", false},
		{"nostrips.tif", tiffFile{w: 8, h: 8, bits: 16, samples: 1, pixels: grey.pixels, drop: []int{tagStripOffsets}}.bytes(), "too few", false},
	} {
		checkRefusal(t, c.name, c.data, c.reason, c.unsupported)
	}
}

func TestTIFFDamagedDeflate(t *testing.T) {
	f := tiffFile{w: 64, h: 64, bits: 16, samples: 1, pixels: noise(4096, 65536), compression: compressionDeflate}
	data := bytes.Clone(f.bytes())
	for i := 200; i < 260; i++ {
		data[i] ^= 0xff
	}
	checkRefusal(t, "damaged.tif", data, "damaged", false)
}

// Noise in a whole file can end its coded pixels early: it is not called cut.
func TestTIFFNoiseInAWholeFile(t *testing.T) {
	for _, compression := range []int{compressionLZW, compressionDeflate, compressionPackBits} {
		f := tiffFile{w: 64, h: 64, bits: 16, samples: 1, pixels: noise(4096, 65536), rows: 1, compression: compression}
		whole := f.bytes()
		for from := 8; from < 8000; from += 333 {
			data := bytes.Clone(whole)
			for i, v := range noise(300, 256) {
				data[from+i] = byte(v)
			}
			_, err := Decode("noise.tif", data, Options{})
			if err != nil && (!strings.Contains(err.Error(), "damaged") || strings.Contains(err.Error(), "it ends")) {
				t.Errorf("compression %d, noise from byte %d: %v", compression, from, err)
			}
		}
	}
}

// Colours by number (TIFF 6.0, page 23) need a map of three values a number.
func TestTIFFColourMap(t *testing.T) {
	f := tiffFile{w: 4, h: 1, bits: 8, samples: 1, pixels: []uint16{0, 1, 2, 3}, tags: map[int]any{tagPhotometric: photometricPalette}}
	checkRefusal(t, "nomap.tif", f.bytes(), "no colour map", false)
	f.tags[tagColourMap] = []int{0, 65535, 0, 65535, 0, 65535}
	checkRefusal(t, "shortmap.tif", f.bytes(), "a pixel names a colour that its colour map does not hold", false)
}

// An entry of a type that nobody knows has values of no length, so its count
// could be anything.
func TestTIFFUnknownTypeWithHugeCount(t *testing.T) {
	f := tiffFile{w: 8, h: 8, bits: 16, samples: 1, pixels: noise(64, 65536)}
	data := f.bytes()
	d := binary.LittleEndian
	at := int(d.Uint32(data[4:])) + 2
	for d.Uint16(data[at:]) != tagStripOffsets {
		at += 12
	}
	d.PutUint16(data[at+2:], 99)
	d.PutUint32(data[at+4:], 1<<32-1)
	checkRefusal(t, "unknown.tif", data, "too few", false)
}

package scan

import (
	"image"
	"io"

	"golang.org/x/image/tiff"
)

// Values of TIFF 6.0: compression (pages 30, 117), photometric interpretation
// (page 37), sample format (page 80), planar configuration (page 38).
const (
	compressionNone     = 1
	compressionLZW      = 5
	compressionDeflate  = 8
	compressionPackBits = 32773
	compressionDeflate0 = 32946 // the older number of Deflate

	photometricRGB     = 2
	photometricPalette = 3
	photometricCMYK    = 5
	photometricYCbCr   = 6

	formatUnsigned = 1
	formatFloat    = 3
	planarSeparate = 2
)

// Most bytes that one stored byte can give. PackBits: 2 bytes give 128 (TIFF
// 6.0, page 42). LZW: a code of 12 bits gives at most 4096 (page 58). Deflate:
// 1032 (RFC 1951: a match of 258 bytes takes 2 bits).
var expansion = map[int]float64{
	compressionNone:     1,
	compressionPackBits: 64,
	compressionLZW:      2731,
	compressionDeflate:  1032,
	compressionDeflate0: 1032,
}

var compressionNames = map[int]string{
	2: "fax compression", 3: "fax compression", 4: "fax compression",
	6: "JPEG compression", 7: "JPEG compression",
	34712: "JPEG 2000 compression", 50000: "Zstandard compression", 50001: "WebP compression", 34925: "LZMA compression",
}

func decodeTIFF(data Data) (*raw, *Error) {
	d, short, refusal := readDirectory(data)
	if refusal != nil {
		return nil, refusal
	}
	if refusal := checkTIFF(d, int(data.Size()), short); refusal != nil {
		return nil, refusal
	}
	img, refusal := guard(func() (image.Image, error) { return tiff.Decode(io.NewSectionReader(data, 0, data.Size())) })
	if refusal != nil {
		return nil, refusal
	}
	planes, refusal := planesOf(img)
	if refusal != nil {
		return nil, refusal
	}
	across, down := d.ppi()
	return &raw{
		kind:        TIFF,
		planes:      planes,
		bits:        d.value(tagBits, 0, 1),
		orientation: d.value(tagOrientation, 0, 1),
		ppi:         across,
		ppiDown:     down,
		icc:         d.entries[tagICC].data,
		pictures:    picturesOf(data),
	}, nil
}

// checkTIFF refuses what the decoder does not read, in words, and what the
// file cannot hold, before anything is allocated.
func checkTIFF(d directory, size int, short bool) *Error {
	const remedy = "Save it as 8- or 16-bit grey or RGB TIFF, uncompressed, LZW or Deflate."
	bits, samples := d.value(tagBits, 0, 1), d.value(tagSamples, 0, 1)
	photometric, compression := d.value(tagPhotometric, 0, 1), d.value(tagCompression, 0, compressionNone)
	if compression == 0 {
		compression = compressionNone
	}
	if d.value(tagSubfile, 0, 0)&1 == 1 {
		return unsupported("Save it as a TIFF with one picture.", "the first picture in it is a reduced copy of another")
	}
	if name, known := compressionNames[compression]; known {
		return unsupported(remedy, "it is a TIFF with %s, which is not read", name)
	}
	ratio, known := expansion[compression]
	if !known {
		return unsupported(remedy, "it is a TIFF with compression %d, which is not read", compression)
	}
	switch {
	case d.value(tagSampleFormat, 0, formatUnsigned) == formatFloat:
		return unsupported(remedy, "it is a floating-point TIFF")
	case d.value(tagSampleFormat, 0, formatUnsigned) != formatUnsigned:
		return unsupported(remedy, "its samples are signed or complex numbers")
	case photometric == photometricCMYK:
		return unsupported("Convert it to grey or RGB.", "it is a CMYK TIFF")
	case photometric == photometricYCbCr || photometric > photometricCMYK || photometric == 4:
		return unsupported(remedy, "its colour model (photometric interpretation %d) is not read", photometric)
	case bits != 8 && bits != 16:
		return unsupported(remedy, "it has %s a channel; 8 or 16 bits are read", bitsInWords(bits))
	case photometric == photometricPalette && d.count(tagColourMap) == 0:
		return malformed("its pixels are numbers of colours, but it has no colour map that says which")
	case photometric == photometricRGB && samples < 3:
		return malformed("it says RGB but has %d channels", samples)
	case photometric == photometricRGB && samples == 4 && d.value(tagExtraSamples, 0, 0) == 0:
		return unsupported("Save it without the fourth channel.", "beside red, green and blue it has a fourth channel, perhaps infrared")
	case photometric == photometricRGB && samples > 4:
		return unsupported("Save it with red, green and blue only.", "it has %d channels", samples)
	case photometric != photometricRGB && samples > 1:
		return unsupported("Save it without the further channels.", "beside grey it has further channels, perhaps transparency")
	case d.value(tagPlanar, 0, 1) == planarSeparate && samples > 1:
		return unsupported("Save it with interleaved channels, or each channel as a grey TIFF of its own.", "its channels are stored one after the other (planar)")
	}
	if short {
		return malformed("it is damaged or cut short: its directory points beyond its end")
	}
	offsets, counts := tagStripOffsets, tagStripCounts
	if d.count(tagTileOffsets) > 0 {
		offsets, counts = tagTileOffsets, tagTileCounts
	}
	stored := 0
	for i := range d.count(offsets) {
		at, n := d.value(offsets, i, 0), d.value(counts, i, 0)
		if at+n > size {
			return malformed("it ends before its last row: it should hold %d bytes at least, but has %d", at+n, size)
		}
		stored += n
	}
	return checkSize(d.value(tagWidth, 0, 0), d.value(tagHeight, 0, 0), samples*bits/8, min(stored, size), ratio)
}

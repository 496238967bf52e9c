package scan

// Most bytes that one stored byte can give. PackBits: 2 bytes give 128 (TIFF
// 6.0, page 42). LZW: a code of 12 bits gives at most 4096 (page 58). Deflate:
// 1032 (RFC 1951: a match of 258 bytes takes 2 bits). JPEG: a block of 8 × 8 pixels
// takes one bit at least, in any mode of T.81 that is read.
var expansion = map[int]float64{
	compressionNone:     1,
	compressionPackBits: 64,
	compressionLZW:      2731,
	compressionJPEG:     512,
	compressionDeflate:  1032,
	compressionDeflate0: 1032,
}

// compressionNames are those that are not read.
var compressionNames = map[int]string{
	2: "fax compression", 3: "fax compression", 4: "fax compression",
	compressionOldJPEG: "the JPEG compression of the first draft (number 6)",
	33003:              "JPEG 2000 compression", 33005: "JPEG 2000 compression", 34712: "JPEG 2000 compression",
	34887: "LERC compression", 34925: "LZMA compression", 50000: "Zstandard compression", 50001: "WebP compression",
	50002: "JPEG XL compression", 52546: "JPEG XL compression", 34661: "JBIG compression", 34676: "logarithmic compression", 34677: "logarithmic compression",
}

const otherTIFF = "Save it as 8- or 16-bit grey or RGB TIFF, uncompressed, LZW or Deflate."

func (t *tiffPicture) check() *Error {
	if t.w <= 0 || t.h <= 0 {
		return checkSize(t.w, t.h, 0, 0, 0)
	}
	if t.photometric == photometricCFA || t.photometric == photometricLinearRaw {
		return unsupported("Develop it without corrections and save it as 16-bit TIFF.", "it is the raw file of a camera")
	}
	if name, known := compressionNames[t.compression]; known {
		return unsupported(otherTIFF, "it is a TIFF with %s, which is not read", name)
	}
	if _, known := expansion[t.compression]; !known {
		return unsupported(otherTIFF, "it is a TIFF with compression %d, which is not read", t.compression)
	}
	for i := range min(t.samples, t.count(tagBits)) {
		if t.value(tagBits, i, t.bits) != t.bits {
			return unsupported(otherTIFF, "its channels are of %s and of %s", bitsInWords(t.bits), bitsInWords(t.value(tagBits, i, 0)))
		}
	}
	switch {
	case t.reduced():
		return unsupported("Save it as a TIFF with one picture.", "the only picture in it is a reduced copy of another")
	case t.format != formatUnsigned && t.format != formatFloat:
		return unsupported(otherTIFF, "its samples are signed or complex numbers")
	case t.photometric == photometricCMYK:
		return unsupported("Convert it to grey or RGB.", "it is a CMYK TIFF")
	case t.photometric == photometricYCbCr && t.compression != compressionJPEG, t.photometric > photometricYCbCr, t.photometric == photometricMask:
		return unsupported(otherTIFF, "its colour model (photometric interpretation %d) is not read", t.photometric)
	case t.format == formatFloat && t.bits != 16 && t.bits != 32 && t.bits != 64:
		return unsupported(otherTIFF, "it holds floating-point numbers of %s", bitsInWords(t.bits))
	case t.format == formatUnsigned && (t.bits < 8 || t.bits > 16 && t.bits != 32):
		return unsupported("Scan it at 8 or, better, 16 bits.", "it has %s a channel; 8 to 16 or 32 bits are read", bitsInWords(t.bits))
	case t.photometric == photometricPalette && t.count(tagColourMap) == 0:
		return malformed("its pixels are numbers of colours, but it has no colour map that says which")
	case t.photometric == photometricPalette && (t.bits != 8 || t.samples > 1):
		return unsupported(otherTIFF, "its pixels are numbers of colours, of a kind that is not read")
	case t.samples < t.colours():
		return malformed("it says RGB but has %d channels", t.samples)
	case t.samples > 8:
		return unsupported("Save it with grey, or red, green and blue only.", "it has %d channels", t.samples)
	case t.compression == compressionJPEG && (t.bits != 8 || t.format != formatUnsigned):
		return unsupported(otherTIFF, "it is compressed by JPEG with %s a channel", bitsInWords(t.bits))
	case t.compression == compressionJPEG && t.samples != 1 && t.samples != 3:
		return unsupported(otherTIFF, "it is compressed by JPEG and has %d channels", t.samples)
	case t.compression == compressionJPEG && t.photometric == photometricYCbCr && t.value(tagPlanar, 0, 1) == planarSeparate:
		return unsupported(otherTIFF, "its JPEG channels are stored one after the other")
	case t.predictor == predictorWhole && t.bits != 8 && t.bits != 16 && t.bits != 32,
		t.predictor == predictorFloat && t.format != formatFloat,
		t.predictor > predictorFloat:
		return unsupported(otherTIFF, "its rows are stored as differences of a kind that is not read")
	}
	return nil
}

// checkPieces settles where the strips or tiles lie and whether the file can hold them.
func (t *tiffPicture) checkPieces() *Error {
	size := int(t.data.Size())
	t.pieceW, t.pieceH = t.w, min(t.value(tagRowsPerStrip, 0, t.h), t.h)
	if t.tiled {
		t.pieceW, t.pieceH = t.value(tagTileWidth, 0, 0), t.value(tagTileHeight, 0, 0)
		if t.pieceW <= 0 || t.pieceH <= 0 || t.pieceW > 1<<16 || t.pieceH > 1<<16 {
			return malformed("its tiles have %d × %d pixels", t.pieceW, t.pieceH)
		}
	}
	if t.pieceH <= 0 {
		return malformed("its strips have no rows")
	}
	stored := 0
	for n := range t.count(t.offsetTag()) {
		at, length := t.lies(n)
		if at+length > size+t.forgiven(n) {
			return malformed("it ends before its last row: it should hold %d bytes at least, but has %d", at+length, size)
		}
		stored += length
	}
	perPixel := t.samples * t.bits / 8
	if t.compression == compressionJPEG {
		perPixel = 1
	}
	if refusal := checkSize(t.w, t.h, perPixel, min(stored, size)+t.forgiven(t.count(t.offsetTag())-1), expansion[t.compression]); refusal != nil {
		return refusal
	}
	want := t.pieces()
	if t.count(t.offsetTag()) < want {
		return malformed("it should have %d strips or tiles, but has %d", want, t.count(t.offsetTag()))
	}
	for n := range want { // as files of maps do, where nothing is to be seen
		if at, _ := t.lies(n); at == 0 {
			return malformed("a strip or tile of its pixels is left out")
		}
	}
	return nil
}

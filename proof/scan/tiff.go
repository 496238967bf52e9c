package scan

import (
	"fmt"
	"math"

	"threeply/proof/plane"
)

// Values of TIFF 6.0: compression (pages 30, 117), photometric interpretation
// (page 37), sample format (page 80), planar configuration (page 38), extra samples
// (page 31), fill order (page 32), differences along a row (page 64; of floating-point
// numbers, Adobe's TIFF Technical Note 3); JPEG by Technical Note 2.
const (
	compressionNone     = 1
	compressionLZW      = 5
	compressionOldJPEG  = 6
	compressionJPEG     = 7
	compressionDeflate  = 8
	compressionPackBits = 32773
	compressionDeflate0 = 32946 // the older number of Deflate

	photometricWhiteIsZero = 0
	photometricRGB         = 2
	photometricPalette     = 3
	photometricMask        = 4
	photometricCMYK        = 5
	photometricYCbCr       = 6
	photometricCFA         = 32803 // a sensor's own mosaic (TIFF/EP)
	photometricLinearRaw   = 34892

	formatUnsigned = 1
	formatFloat    = 3
	formatUnknown  = 4 // to be read as unsigned

	planarSeparate = 2
	orderReversed  = 2

	extraUnspecified = 0 // 1 and 2 are opacity
	extraAssociated  = 1 // the colours are multiplied by it already

	predictorNone  = 1
	predictorWhole = 2
	predictorFloat = 3
)

// tiffPicture is one picture of a TIFF: how it is stored.
type tiffPicture struct {
	directory
	data    Data
	inflate Inflater // nil for none

	w, h                   int
	bits, format           int // of a sample
	samples                int // of a pixel
	photometric            int
	compression, predictor int
	separate               bool // the samples of a kind lie together, not those of a pixel

	tiled          bool // in tiles, else in strips
	pieceW, pieceH int  // of a strip or tile, pixels; the last strip may be lower
	white          float64

	infrared, transparency int  // which sample is which, -1 for none
	multiplied             bool // the colours, by their opacity

	// What was found while reading.
	missing int     // bytes at the end of the last row
	step    float64 // of a lossy compression, as Scan.Step
	counts
}

// counts are how often something was found; each reader of pieces has its own.
type counts struct {
	beyond, notNumbers int // floating-point samples above white; that are no number
	opacities
}

// add adds what another reader has counted.
func (c *counts) add(other counts) {
	c.beyond += other.beyond
	c.notNumbers += other.notNumbers
	c.through += other.through
	c.unseen += other.unseen
}

// decodeTIFF reads one of a TIFF's pictures.
func decodeTIFF(data Data, opt Options) (*raw, *Error) {
	all, refusal := pictures(data)
	if refusal != nil {
		return nil, refusal
	}
	if opt.Page >= len(all) {
		return nil, noPage(opt.Page)
	}
	t, refusal := newTIFFPicture(all[opt.Page], data)
	if refusal != nil {
		return nil, refusal
	}
	t.inflate = opt.Inflate
	planes, refusal := t.read()
	if refusal != nil {
		return nil, refusal
	}
	across, down := t.ppi()
	r := &raw{
		kind:        TIFF,
		bits:        t.bits,
		orientation: t.value(tagOrientation, 0, 1),
		ppi:         across,
		ppiDown:     down,
		step:        t.step,
		icc:         t.entries[tagICC].data,
		pictures:    len(all),
		declared:    t.transfer(),
		primaries:   t.chromaticities(),
	}
	colours := t.colours()
	r.planes = planes[:colours:colours]
	if t.photometric == photometricPalette {
		if r.planes, refusal = t.fromMap(planes[0]); refusal != nil {
			return nil, refusal
		}
	}
	if t.infrared >= 0 {
		r.infrared = planes[colours]
	}
	r.remarks, refusal = t.remarks()
	return r, refusal
}

// colours is the number of samples that make the picture.
func (t *tiffPicture) colours() int {
	if t.photometric == photometricRGB || t.photometric == photometricYCbCr {
		return 3
	}
	return 1
}

// newTIFFPicture reads how a picture is stored. It refuses what is not read, in words,
// and what the file cannot hold, before anything is allocated.
func newTIFFPicture(d directory, data Data) (*tiffPicture, *Error) {
	t := &tiffPicture{
		directory: d, data: data,
		w: d.value(tagWidth, 0, 0), h: d.value(tagHeight, 0, 0),
		bits: d.value(tagBits, 0, 1), samples: d.value(tagSamples, 0, 1), format: d.value(tagSampleFormat, 0, formatUnsigned),
		photometric: d.value(tagPhotometric, 0, 1), compression: d.value(tagCompression, 0, compressionNone), predictor: d.value(tagPredictor, 0, predictorNone),
		separate: d.value(tagPlanar, 0, 1) == planarSeparate, tiled: d.count(tagTileOffsets) > 0 || d.count(tagTileWidth) > 0,
		white: 1, infrared: -1, transparency: -1,
	}
	if t.compression == 0 {
		t.compression = compressionNone
	}
	if t.format == formatUnknown || t.format == 0 {
		t.format = formatUnsigned
	}
	if t.compression != compressionLZW && !t.deflated() {
		t.predictor = predictorNone // of other kinds it is not (page 64), and libtiff passes it over
	}
	if refusal := t.check(); refusal != nil {
		return nil, refusal
	}
	t.separate = t.separate && t.samples > 1
	if v := d.real(tagLargest, 0); t.format == formatFloat && v > 0 && !math.IsInf(v, 1) {
		t.white = v
	}
	for i := t.colours(); i < t.samples; i++ {
		switch kind := d.value(tagExtraSamples, i-t.colours(), extraUnspecified); {
		case kind != extraUnspecified && t.transparency < 0:
			t.transparency = i
			t.multiplied = kind == extraAssociated
		case kind == extraUnspecified && t.infrared < 0 && t.colours() == 3:
			t.infrared = i
		}
	}
	if d.short {
		return nil, malformed("it is damaged or cut short: its directory points beyond its end")
	}
	return t, t.checkPieces()
}

// mostBeyond is the share of a picture that may lie above white in a floating-point file:
// glints and the clear light beside a plate do.
const mostBeyond = 0.05

// remarks say what was passed over, or refuse the picture for it.
func (t *tiffPicture) remarks() ([]string, *Error) {
	var out []string
	all := float64(t.w) * float64(t.h) * float64(t.colours())
	if t.beyond > 0 && float64(t.beyond) > mostBeyond*all {
		return nil, unsupported("Scale it so that white is 1, or save it as 16-bit TIFF.",
			"%.0f %% of its floating-point values lie above %g, which stands for white", 100*float64(t.beyond)/all, t.white)
	}
	if t.beyond > 0 {
		out = append(out, fmt.Sprintf("%d of its values lie above white and were taken as white", t.beyond))
	}
	if t.notNumbers > 0 {
		out = append(out, fmt.Sprintf("%d of its values are no numbers and were taken as black", t.notNumbers))
	}
	if t.missing > 0 {
		out = append(out, fmt.Sprintf("the last %d bytes of its last row are missing; the pixels there repeat the row above. Copy the file again if you can", t.missing))
	}
	laid, refusal := t.opacities.remarks(t.w * t.h)
	if refusal != nil {
		return nil, refusal
	}
	out = append(out, laid...)
	used := t.colours()
	for _, i := range []int{t.infrared, t.transparency} {
		if i >= 0 {
			used++
		}
	}
	if left := t.samples - used; left > 0 {
		out = append(out, fmt.Sprintf("beside its colours it holds %s; left out", channelsInWords(left)))
	}
	return out, nil
}

func channelsInWords(n int) string {
	if n == 1 {
		return "a further channel"
	}
	return fmt.Sprintf("%d further channels", n)
}

// fromMap looks the numbers of colours up in the file's map (TIFF 6.0, page 23): all
// reds, then greens, then blues. A map of greys gives one plane.
func (t *tiffPicture) fromMap(numbers *plane.Plane) ([]*plane.Plane, *Error) {
	n := t.count(tagColourMap) / 3
	scale := uint16(257) // some writers give 8 bits
	grey := true
	for i := range n {
		r, g, b := t.value(tagColourMap, i, 0), t.value(tagColourMap, n+i, 0), t.value(tagColourMap, 2*n+i, 0)
		if max(r, g, b) > 255 {
			scale = 1
		}
		grey = grey && r == g && g == b
	}
	var table [3][256]uint16
	for c := range table {
		for i := range min(n, 256) {
			table[c][i] = uint16(t.value(tagColourMap, c*n+i, 0)) * scale
		}
	}
	planes := []*plane.Plane{numbers}
	if !grey {
		planes = append(planes, plane.New(t.w, t.h), plane.New(t.w, t.h))
	}
	for i, code := range numbers.Pix {
		colour := int(code >> 8)
		if colour >= n {
			return nil, malformed("it is damaged: a pixel names a colour that its colour map does not hold")
		}
		for c, p := range planes {
			p.Pix[i] = table[c][colour]
		}
	}
	return planes, nil
}

// chromaticities are those of red, green, blue and white as the file gives them (TIFF
// 6.0, pages 82 and 83); nil where it does not.
func (t *tiffPicture) chromaticities() *[4][2]float64 {
	if t.count(tagPrimaries) != 6 || t.count(tagWhitePoint) != 2 {
		return nil
	}
	var out [4][2]float64
	for i := range 3 {
		out[i] = [2]float64{t.real(tagPrimaries, 2*i), t.real(tagPrimaries, 2*i+1)}
	}
	out[3] = [2]float64{t.real(tagWhitePoint, 0), t.real(tagWhitePoint, 1)}
	return &out
}

// transfer is the encoding that the file gives by a table for each code (TIFF 6.0, page
// 84: 2^bits values from 0 to 65535, proportional to light, for all channels or for each);
// nil where it does not.
func (t *tiffPicture) transfer() *encoding {
	n := 1 << min(t.bits, 17)
	tables := t.count(tagTransfer) / n
	if t.format != formatUnsigned || t.bits > 16 || t.count(tagTransfer)%n > 0 || tables != 1 && tables != 3 {
		return nil
	}
	e := same("a table in the file (TIFF transfer function)", nil)
	e.linear = nil
	for c := range min(tables, t.colours()) {
		e.linear = append(e.linear, func(x float64) float64 {
			at := min(max(x, 0), 1) * float64(n-1)
			i := min(int(at), n-2)
			lo, hi := float64(t.value(tagTransfer, c*n+i, 0)), float64(t.value(tagTransfer, c*n+i+1, 0))
			return (lo + (hi-lo)*(at-float64(i))) / 65535
		})
	}
	return e
}

package scan

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"math"

	"github.com/klauspost/compress/zlib"
)

// pngInfo is what the chunks before the pixels say; PNG (Third Edition), W3C
// 2023, clause 11.
type pngInfo struct {
	w, h, bits, colour int
	interlaced         bool
	ppi, ppiDown       float64
	orientation        int
	icc                []byte
	srgb               bool
	gamma              float64 // gAMA value, 0 for none
	primaries          *[4][2]float64
	coded              *encoding // by a cICP chunk; nil for none
	codedPrimaries     *[4][2]float64
	palette, opacity   []byte   // PLTE; tRNS
	pixels             int64    // where the first chunk of pixels begins
	hidden             []uint16 // a code for each channel that stands for nothing to be seen; nil for none

	opacities // found while reading
}

// Colour types of PNG.
const (
	pngGrey      = 0
	pngRGB       = 2
	pngPalette   = 3
	pngGreyAlpha = 4
	pngRGBAlpha  = 6
)

var pngChannels = map[int]int{pngGrey: 1, pngRGB: 3, pngPalette: 1, pngGreyAlpha: 2, pngRGBAlpha: 4}

func decodePNG(data Data, inflate Inflater) (*raw, *Error) {
	info, refusal := readPNG(data)
	if refusal != nil {
		return nil, refusal
	}
	planes, refusal := info.read(data, inflate)
	if refusal != nil {
		return nil, refusal
	}
	r := &raw{kind: PNG, planes: planes, bits: info.bits, ppi: info.ppi, ppiDown: info.ppiDown, icc: info.icc, orientation: info.orientation, primaries: info.primaries}
	if r.remarks, refusal = info.remarks(info.w * info.h); refusal != nil {
		return nil, refusal
	}
	if info.colour == pngPalette {
		r.bits = 8
	}
	switch {
	case info.coded != nil:
		r.declared, r.primaries, r.icc = info.coded, info.codedPrimaries, nil
	case info.srgb:
		r.declared, r.primaries = same("sRGB (PNG)", srgb), nil
	case info.gamma == 1:
		r.declared = same("linear (PNG gamma 1)", identity)
	case info.gamma > 0:
		r.declared = same(fmt.Sprintf("gamma %.3g (PNG)", 1/info.gamma), power(1/info.gamma))
	}
	return r, nil
}

// readPNG walks the chunks up to the first pixels. All are held to their checksums but such as
// are longer than any that is read: a bit that is wrong could make another of one that counts.
func readPNG(data Data) (*pngInfo, *Error) {
	info := &pngInfo{}
	size := data.Size()
	for at := int64(8); ; {
		if size-at < 12 {
			return nil, malformed("it ends before its pixels")
		}
		head, refusal := part(data, at, 8)
		if refusal != nil {
			return nil, refusal
		}
		n, kind := int64(binary.BigEndian.Uint32(head)), string(head[4:])
		if n+12 > size-at && kind != "IDAT" {
			return nil, malformed("it ends within its header")
		}
		if first := at == 8; first != (kind == "IHDR") || (first && n != 13) {
			return nil, malformed("its header is damaged")
		}
		if kind == "IDAT" {
			info.pixels = at
			return info, nil
		}
		if n <= maxICCBytes {
			body, refusal := checked(data, at+8, n, kind)
			if refusal != nil {
				return nil, refusal
			}
			if refusal := info.chunk(kind, body, int(size)); refusal != nil {
				return nil, refusal
			}
		}
		at += 12 + n
	}
}

// checked is the body of a chunk, held to the checksum behind it.
func checked(data Data, at, n int64, kind string) ([]byte, *Error) {
	body, refusal := part(data, at, n+4)
	if refusal != nil {
		return nil, refusal
	}
	if crc32.Update(crc32.ChecksumIEEE([]byte(kind)), crc32.IEEETable, body[:n]) != binary.BigEndian.Uint32(body[n:]) {
		return nil, malformed("it is damaged: a checksum in its header is wrong")
	}
	return body[:n], nil
}

// chunk reads a chunk before the pixels. size is the file's, in bytes.
func (p *pngInfo) chunk(kind string, body []byte, size int) *Error {
	number := func(i int) float64 { return float64(binary.BigEndian.Uint32(body[4*i:])) }
	switch kind {
	case "IHDR":
		p.w, p.h = int(binary.BigEndian.Uint32(body)), int(binary.BigEndian.Uint32(body[4:]))
		p.bits, p.colour, p.interlaced = int(body[8]), int(body[9]), body[12] == 1
		return p.check(size)
	case "PLTE":
		p.palette = body
	case "tRNS":
		p.opacity = body
	case "pHYs":
		if len(body) == 9 && body[8] == 1 {
			p.ppi, p.ppiDown = plausiblePPI(number(0)*0.0254), plausiblePPI(number(1)*0.0254)
		}
	case "gAMA":
		if len(body) == 4 {
			if g := number(0) / 100000; g >= 0.2 && g <= 5 {
				p.gamma = g
			}
		}
	case "cHRM": // white, red, green, blue
		if len(body) == 32 {
			p.primaries = &[4][2]float64{}
			for i := range p.primaries {
				p.primaries[(i+3)%4] = [2]float64{number(2*i) / 100000, number(2*i+1) / 100000}
			}
		}
	case "sRGB":
		p.srgb = true
	case "iCCP":
		p.icc = inflateProfile(body)
	case "eXIf":
		orientation, across, down := readExif(body)
		p.orientation = orientation
		if p.ppi == 0 && p.ppiDown == 0 { // pHYs says it otherwise
			p.ppi, p.ppiDown = across, down
		}
	case "cICP":
		return p.codePoints(body)
	}
	return nil
}

// codePoints reads a cICP chunk, which goes before all others on colours (PNG, Third Edition,
// 11.3.2.6): numbers of primaries and of a curve by ITU-T H.273 (tables 2 and 3; from memory). A chunk
// of numbers that are not known is passed over.
func (p *pngInfo) codePoints(body []byte) *Error {
	if len(body) != 4 {
		return nil
	}
	curve := body[1]
	if name := map[byte]string{16: "PQ", 18: "HLG"}[curve]; name != "" || body[3] == 0 {
		if name == "" {
			name = "narrow range"
		}
		return unsupported("Save it with an ordinary profile, such as sRGB.", "its codes are those of video (%s)", name)
	}
	white := [2]float64{0.3127, 0.329}
	switch body[0] {
	case 1: // those that are taken where nothing is said
	case 9: // of ITU-R BT.2020
		p.codedPrimaries = &[4][2]float64{{0.708, 0.292}, {0.17, 0.797}, {0.131, 0.046}, white}
	case 12: // P3 with the white D65
		p.codedPrimaries = &[4][2]float64{{0.68, 0.32}, {0.265, 0.69}, {0.15, 0.06}, white}
	default:
		return nil
	}
	switch curve {
	case 1, 6, 14, 15:
		p.coded = same("BT.709 (PNG)", bt709)
	case 8:
		p.coded = same("linear (PNG)", identity)
	case 13:
		p.coded = same("sRGB (PNG)", srgb)
	}
	return nil
}

// bt709 takes a code to light, as Recommendation ITU-R BT.709-6, item 1.2, has it the other way
// about.
func bt709(x float64) float64 {
	if x < 0.081 {
		return x / 4.5
	}
	return math.Pow((x+0.099)/1.099, 1/0.45)
}

func (p *pngInfo) check(stored int) *Error {
	if p.bits < 8 && p.colour != pngPalette {
		return unsupported("Scan it at 8 or, better, 16 bits.", "it has %s a channel; 8 or 16 bits are read", bitsInWords(p.bits))
	}
	channels := pngChannels[p.colour]
	switch {
	case channels == 0, p.bits != 8 && p.bits != 16 && p.colour != pngPalette, p.colour == pngPalette && p.bits != 1 && p.bits != 2 && p.bits != 4 && p.bits != 8:
		return malformed("its header is damaged")
	case p.colour == pngPalette:
		stored = int(min(int64(stored)*8, math.MaxInt32)) // eight 1-bit pixels a byte
	}
	// Deflate gives at most 1032 bytes a byte, RFC 1951.
	return checkSize(p.w, p.h, channels*max(p.bits/8, 1), stored, 1032)
}

// inflateProfile unpacks an iCCP chunk: name, zero, method, zlib data. It
// gives nil where that fails; the scan is then read as without profile.
func inflateProfile(body []byte) []byte {
	i := bytes.IndexByte(body, 0)
	if i < 0 || i+2 > len(body) {
		return nil
	}
	z, err := zlib.NewReader(bytes.NewReader(body[i+2:]))
	if err != nil {
		return nil
	}
	icc, err := io.ReadAll(io.LimitReader(z, maxICCBytes))
	if err != nil {
		return nil
	}
	return icc
}

// readExif returns the orientation and resolution of an Exif block, 0 for
// none.
func readExif(block []byte) (orientation int, across, down float64) {
	if kind, refusal := sniff(block); refusal != nil || kind != TIFF {
		return 0, 0, 0
	}
	h, refusal := readHeader(Bytes(block))
	if refusal != nil {
		return 0, 0, 0
	}
	d, refusal := readDirectory(Bytes(block), h, h.first)
	if refusal != nil {
		return 0, 0, 0
	}
	across, down = d.ppi()
	return d.value(tagOrientation, 0, 0), across, down
}

package scan

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
)

// pngInfo is what the chunks before the pixels say; PNG (Third Edition), W3C
// 2023, clause 11.
type pngInfo struct {
	w, h, bits, colour int
	ppi, ppiDown       float64
	orientation        int
	icc                []byte
	srgb               bool
	gamma              float64 // gAMA value, 0 for none
}

func decodePNG(data []byte) (*raw, *Error) {
	info, refusal := readPNG(data)
	if refusal != nil {
		return nil, refusal
	}
	img, refusal := guard(func() (image.Image, error) { return png.Decode(bytes.NewReader(data)) })
	if refusal != nil {
		return nil, refusal
	}
	planes, refusal := planesOf(img)
	if refusal != nil {
		return nil, refusal
	}
	r := &raw{kind: PNG, planes: planes, bits: info.bits, ppi: info.ppi, ppiDown: info.ppiDown, icc: info.icc, orientation: info.orientation}
	switch {
	case info.srgb:
		r.declared = same("sRGB (PNG)", srgb)
	case info.gamma == 1:
		r.declared = same("linear (PNG gamma 1)", identity)
	case info.gamma > 0:
		r.declared = same(fmt.Sprintf("gamma %.3g (PNG)", 1/info.gamma), power(1/info.gamma))
	}
	return r, nil
}

// readPNG walks the chunks up to the first pixels.
func readPNG(data []byte) (*pngInfo, *Error) {
	info := &pngInfo{}
	rest := data[8:]
	for first := true; ; first = false {
		if len(rest) < 12 {
			return nil, malformed("it ends before its pixels")
		}
		n, kind := uint64(binary.BigEndian.Uint32(rest)), string(rest[4:8])
		if n+12 > uint64(len(rest)) && kind != "IDAT" {
			return nil, malformed("it ends within its header")
		}
		if first != (kind == "IHDR") || (first && n != 13) {
			return nil, malformed("its header is damaged")
		}
		if kind == "IDAT" {
			return info, nil
		}
		body := rest[8 : 8+n]
		switch kind {
		case "IHDR":
			info.w, info.h = int(binary.BigEndian.Uint32(body)), int(binary.BigEndian.Uint32(body[4:]))
			info.bits, info.colour = int(body[8]), int(body[9])
			if refusal := info.check(len(data)); refusal != nil {
				return nil, refusal
			}
		case "pHYs":
			if n == 9 && body[8] == 1 {
				info.ppi = plausiblePPI(float64(binary.BigEndian.Uint32(body)) * 0.0254)
				info.ppiDown = plausiblePPI(float64(binary.BigEndian.Uint32(body[4:])) * 0.0254)
			}
		case "gAMA":
			if n == 4 {
				g := float64(binary.BigEndian.Uint32(body)) / 100000
				if g >= 0.2 && g <= 5 {
					info.gamma = g
				}
			}
		case "sRGB":
			info.srgb = true
		case "iCCP":
			info.icc = inflateProfile(body)
		case "eXIf":
			info.orientation, _, _ = readExif(body)
		}
		rest = rest[12+n:]
	}
}

func (p *pngInfo) check(stored int) *Error {
	const palette = 3
	if p.bits < 8 && p.colour != palette {
		return unsupported("Scan it at 8 or, better, 16 bits.", "it has %s a channel; 8 or 16 bits are read", bitsInWords(p.bits))
	}
	channels := map[int]int{0: 1, 2: 3, palette: 1, 4: 2, 6: 4}[p.colour]
	if channels == 0 {
		return malformed("its header is damaged")
	}
	if p.colour == palette {
		p.bits = 8
		stored = int(min(int64(stored)*8, math.MaxInt32)) // eight 1-bit pixels a byte
	}
	// Deflate gives at most 1032 bytes a byte, RFC 1951.
	return checkSize(p.w, p.h, channels*p.bits/8, stored, 1032)
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
	d, _, refusal := readDirectory(Bytes(block))
	if refusal != nil {
		return 0, 0, 0
	}
	across, down = d.ppi()
	return d.value(tagOrientation, 0, 0), across, down
}

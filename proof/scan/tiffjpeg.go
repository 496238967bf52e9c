package scan

import (
	"bytes"
	"image"
	"image/jpeg"
	"io"

	"threeply/proof/plane"
)

// jpegPiece reads strip or tile n, a JPEG of its own whose tables may stand in the
// directory (Adobe's TIFF Technical Note 2).
func (r *pieceReader) jpegPiece(n, x0, y0 int, to []*plane.Plane) *Error {
	at, length := r.lies(n)
	stored := make([]byte, length)
	if _, err := io.ReadFull(io.NewSectionReader(r.data, int64(at), int64(length)), stored); err != nil {
		return fromLibrary(err)
	}
	if r.value(tagFillOrder, 0, 1) == orderReversed {
		io.ReadFull(reversed{bytes.NewReader(bytes.Clone(stored))}, stored)
	}
	// Both are whole streams, from SOI to EOI: the tables go in behind the SOI.
	if tables := r.entries[tagJPEGTables].data; len(tables) > 4 && len(stored) > 2 {
		stored = append(bytes.Clone(tables[:len(tables)-2]), stored[2:]...)
	}
	if len(stored) < 4 {
		return malformed("it is damaged: a strip or tile is empty")
	}
	info, refusal := readJPEG(bytes.NewReader(stored))
	if refusal != nil {
		return refusal
	}
	if refusal := info.check(len(stored)); refusal != nil {
		return refusal
	}
	across, down := min(r.pieceW, r.w-x0), min(r.pieceH, r.h-y0)
	if info.w < across || info.h < down || info.w > r.pieceW+15 || info.h > r.pieceH+15 || info.components != r.pieceSamples() {
		return malformed("it is damaged: a strip or tile of %d × %d pixels holds a JPEG of %d × %d", across, down, info.w, info.h)
	}
	if r.step == 0 {
		r.step = info.step
	}
	img, refusal := guard(func() (image.Image, error) { return jpeg.Decode(&jpegScans{in: bytes.NewReader(stored)}) })
	if refusal != nil {
		return refusal
	}
	planes, refusal := r.asStored(img)
	if refusal != nil {
		return refusal
	}
	for c, p := range planes {
		if to[c] == nil {
			continue
		}
		for y := range down {
			out := to[c].Row(y0 + y)[x0 : x0+across]
			copy(out, p.Row(y))
			if r.photometric == photometricWhiteIsZero {
				for x := range out {
					out[x] = 65535 - out[x]
				}
			}
		}
	}
	return nil
}

// asStored are the planes of a decoded JPEG. The directory says whether its three
// components are red, green and blue, not the JPEG, which the library goes by.
func (t *tiffPicture) asStored(img image.Image) ([]*plane.Plane, *Error) {
	m, three := img.(*image.YCbCr)
	if !three || t.photometric != photometricRGB {
		return planesOf(img)
	}
	if m.SubsampleRatio != image.YCbCrSubsampleRatio444 {
		return nil, unsupported(otherTIFF, "the channels of its JPEG have different sizes")
	}
	w, h := m.Rect.Dx(), m.Rect.Dy()
	return []*plane.Plane{fromBytes(w, h, m.Y, m.YStride), fromBytes(w, h, m.Cb, m.CStride), fromBytes(w, h, m.Cr, m.CStride)}, nil
}

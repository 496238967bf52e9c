package scan

import (
	"bufio"
	"errors"
	"io"

	"github.com/klauspost/compress/zlib"

	"threeply/proof/plane"
)

// read decodes the picture row by row. Beside the planes and the file it takes the memory of
// a row; of a whole strip or tile where that is a JPEG. The planes are those of the colours
// and, where there is one, of infrared.
func (t *tiffPicture) read() ([]*plane.Plane, *Error) {
	planes := make([]*plane.Plane, t.colours(), t.colours()+1)
	for i := range planes {
		planes[i] = plane.New(t.w, t.h)
	}
	to := make([]*plane.Plane, t.samples) // where each sample goes, nil for nowhere
	copy(to, planes)
	if t.infrared >= 0 {
		planes = append(planes, plane.New(t.w, t.h))
		to[t.infrared] = planes[len(planes)-1]
	}
	picture := planes[:t.colours()] // what is laid on white where it is transparent
	if t.multiplied && t.photometric == photometricWhiteIsZero {
		picture = nil // white is nought: what is multiplied by its opacity lies on white already
	}
	if !t.separate {
		return planes, t.readPieces(picture, 0, 0, to)
	}
	for s := range t.samples {
		if to[s] == nil && s != t.transparency { // nothing of it is wanted
			continue
		}
		if refusal := t.readPieces(picture, s*t.piecesAcross()*t.piecesDown(), s, to[s:s+1]); refusal != nil {
			return nil, refusal
		}
	}
	return planes, nil
}

// newPieceReader makes a reader of pieces, whose colours are laid on white where they are
// transparent.
func (t *tiffPicture) newPieceReader(picture []*plane.Plane) *pieceReader {
	return &pieceReader{
		tiffPicture: t, picture: picture, in: bufio.NewReaderSize(nil, 1<<17),
		row: make([]byte, t.rowBytes()), codes: make([]uint16, t.pieceW*t.pieceSamples()),
	}
}

// pieceReader reads strips and tiles, one after the other.
type pieceReader struct {
	*tiffPicture
	counts  // of its own, for several readers work at once
	picture []*plane.Plane
	in      *bufio.Reader
	zlib    io.ReadCloser // of the last piece, to be used again
	lzw     *lzwReader    // likewise
	row     []byte        // of a piece, unpacked
	codes   []uint16      // of a row
}

// piece reads strip or tile n as it is stored. to holds a plane, or nil, for each of its
// samples, of which the first is sample s of the pixel.
func (r *pieceReader) piece(n int, stored io.Reader, s int, to []*plane.Plane) *Error {
	i := n % (r.piecesAcross() * r.piecesDown())
	x0, y0 := i%r.piecesAcross()*r.pieceW, i/r.piecesAcross()*r.pieceH
	if r.compression == compressionJPEG {
		return r.jpegPiece(n, x0, y0, to)
	}
	in, refusal := r.open(n, stored)
	if refusal != nil {
		return refusal
	}
	if fast, ok := in.(*inflating); ok {
		defer fast.Close()
	}
	last := !r.tiled && n == r.pieces()-1
	across, down := min(r.pieceW, r.w-x0), min(r.pieceH, r.h-y0)
	for y := range down {
		got, err := io.ReadFull(in, r.row)
		switch {
		case err == nil:
		case err == io.ErrUnexpectedEOF && last && y == down-1 && len(r.row)-got <= mostMissing: // less than a row is missing
			r.missing = len(r.row) - got
			if r.predictor != predictorNone {
				clear(r.row[got:]) // no difference to the pixel before
			}
		default:
			return fromLibrary(err)
		}
		r.undo(r.row)
		codes := r.codes
		if len(to) == 1 && to[0] != nil && across == r.pieceW { // straight to where they belong
			codes = to[0].Row(y0 + y)[x0 : x0+across]
		}
		r.unpack(codes, r.row)
		r.place(codes, x0, y0+y, s, to)
	}
	return r.checkSum(in)
}

// checkSum reads a piece that is compressed by Deflate to its end, where its checksum
// stands: the rows of a tile beyond the picture, and a byte more than there should be.
func (r *pieceReader) checkSum(in io.Reader) *Error {
	if !r.deflated() {
		return nil
	}
	if _, err := io.CopyN(io.Discard, in, int64(r.pieceH*len(r.row))+1); errors.Is(err, zlib.ErrChecksum) {
		return fromLibrary(err)
	}
	return nil
}

// stored is a reader of piece n as it lies in the file.
func (t *tiffPicture) stored(n int) io.Reader {
	at, length := t.lies(n)
	return io.NewSectionReader(t.data, int64(at), int64(length))
}

// deflated tells whether pieces are compressed by Deflate.
func (t *tiffPicture) deflated() bool {
	return t.compression == compressionDeflate || t.compression == compressionDeflate0
}

// inOrder is what is stored, with the highest bit of each byte first.
func (t *tiffPicture) inOrder(stored io.Reader) io.Reader {
	if t.value(tagFillOrder, 0, 1) == orderReversed {
		return reversed{stored}
	}
	return stored
}

// open is a reader of the unpacked bytes of piece n.
func (r *pieceReader) open(n int, stored io.Reader) (io.Reader, *Error) {
	if r.inflate != nil && r.deflated() && r.pieceH*len(r.row) >= leastInflated {
		return r.inflate.inflate(func() io.Reader { return r.inOrder(r.stored(n)) }), nil
	}
	r.in.Reset(r.inOrder(stored))
	switch r.compression {
	case compressionLZW:
		if head, _ := r.in.Peek(2); len(head) == 2 && head[0] == 0 && head[1]&1 == 1 {
			return nil, unsupported(otherTIFF, "it is a TIFF with %s, which is not read", oldLZW)
		}
		if r.lzw == nil {
			r.lzw = newLZWReader(r.in)
		} else {
			r.lzw.Reset(r.in)
		}
		return r.lzw, nil
	case compressionPackBits:
		return &packBits{in: r.in}, nil
	case compressionDeflate, compressionDeflate0:
		var err error
		if again, ok := r.zlib.(zlib.Resetter); ok {
			err = again.Reset(r.in, nil)
		} else {
			r.zlib, err = zlib.NewReader(r.in)
		}
		if err != nil {
			return nil, fromLibrary(err)
		}
		return r.zlib, nil
	}
	return r.in, nil
}

// place puts the codes of a row into the planes; with those of its opacity, which come after
// those of its colours, what lies there is laid on white.
func (r *pieceReader) place(codes []uint16, x0, y, s int, to []*plane.Plane) {
	k, across := len(to), min(r.pieceW, r.w-x0)
	for i, p := range to {
		if p == nil {
			continue
		}
		out := p.Row(y)[x0 : x0+across]
		switch {
		case k > 1:
			for x, at := 0, i; x < len(out); x, at = x+1, at+k {
				out[x] = codes[at]
			}
		case &out[0] != &codes[0]:
			copy(out, codes)
		}
		if r.photometric == photometricWhiteIsZero && s+i == 0 {
			for x := range out {
				out[x] = 65535 - out[x]
			}
		}
	}
	if i := r.transparency - s; i >= 0 && i < k {
		for x := range across {
			r.layOnWhite(r.picture, y*r.w+x0+x, codes[i+x*k], r.multiplied)
		}
	}
}

// reversed turns the bits of each byte about, for files that store the lowest first.
type reversed struct{ in io.Reader }

func (r reversed) Read(p []byte) (int, error) {
	n, err := r.in.Read(p)
	for i, b := range p[:n] {
		b = b>>4 | b<<4
		b = b>>2&0x33 | b<<2&0xcc
		p[i] = b>>1&0x55 | b<<1&0xaa
	}
	return n, err
}

// packBits undoes runs of equal bytes: a count n from 0 to 127 stands before n + 1 bytes,
// one from 129 to 255 before a byte that is meant 257 − n times (TIFF 6.0, page 42).
type packBits struct {
	in      *bufio.Reader
	literal int // bytes still to be taken as they are
	run     int // times that value is still to be given
	value   byte
}

func (r *packBits) Read(p []byte) (int, error) {
	if len(p) == 0 {
		return 0, nil
	}
	for r.literal == 0 && r.run == 0 {
		n, err := r.in.ReadByte()
		switch {
		case err != nil:
			return 0, err
		case n < 128:
			r.literal = int(n) + 1
		case n > 128:
			r.run = 257 - int(n)
			if r.value, err = r.in.ReadByte(); err != nil {
				return 0, err
			}
		}
	}
	if r.literal > 0 {
		n, err := r.in.Read(p[:min(len(p), r.literal)])
		r.literal -= n
		return n, err
	}
	n := min(len(p), r.run)
	for i := range n {
		p[i] = r.value
	}
	r.run -= n
	return n, nil
}

package scan

import (
	"bufio"
	"encoding/binary"
	"errors"
	"image"
	"image/jpeg"
	"io"
)

// Markers of ITU-T T.81, table B.1.
const (
	markerSOF0 = 0xc0
	markerDHT  = 0xc4
	markerJPG  = 0xc8
	markerDAC  = 0xcc
	markerSOF2 = 0xc2
	markerSOFF = 0xcf
	markerRST0 = 0xd0
	markerSOI  = 0xd8
	markerEOI  = 0xd9
	markerSOS  = 0xda
	markerDQT  = 0xdb
	markerAPP0 = 0xe0
	markerAPP1 = 0xe1
	markerAPP2 = 0xe2
)

type jpegInfo struct {
	w, h, precision, components int
	sof                         byte
	ppi, ppiDown                float64
	step                        float64 // mean of the first quantisation table, that of the luminance
	orientation                 int
	inOneScan                   bool            // all pixels, whole: nothing but EOI is to follow
	parts                       map[byte][]byte // ICC profile, by number from 1
}

// decodeJPEG reads the file as it decodes it. Beside the planes, the library's picture takes a
// byte a pixel of a grey file and 1.5 to 3 of one in colour; where the file is progressive,
// four times that more while it is decoded.
func decodeJPEG(data Data) (*raw, *Error) {
	size := data.Size()
	info, refusal := readJPEG(io.NewSectionReader(data, 0, size))
	if refusal != nil {
		return nil, refusal
	}
	if refusal := info.check(int(size)); refusal != nil {
		return nil, refusal
	}
	img, refusal := decodedJPEG(data)
	var remarks []string
	if refusal != nil && info.inOneScan {
		if whole, still := decodedJPEG(withEnd{data}); still == nil {
			img, refusal = whole, nil
			remarks = []string{"the mark at its end is missing, but all its pixels are there. Copy the file again if you can"}
		}
	}
	if refusal != nil {
		return nil, refusal
	}
	planes, refusal := planesOf(img)
	if refusal != nil {
		return nil, refusal
	}
	return &raw{kind: JPEG, planes: planes, bits: 8, orientation: info.orientation, ppi: info.ppi, ppiDown: info.ppiDown, step: info.step, icc: info.profile(), remarks: remarks}, nil
}

func decodedJPEG(data Data) (image.Image, *Error) {
	return guard(func() (image.Image, error) {
		return jpeg.Decode(&jpegScans{in: io.NewSectionReader(data, 0, data.Size())})
	})
}

// mostScans is how many times a progressive JPEG can go over its pixels: such as are made go over
// them about ten times. A judgement without a source. Each time costs a look at every block for a few bytes of
// the file, so that a small one could hold the reader up for hours.
const mostScans = 500

// jpegScans counts the scans of a JPEG as it is read. What looks like the beginning of one
// elsewhere, as in a profile, is rare.
type jpegScans struct {
	in    io.Reader
	last  byte
	scans int
}

func (j *jpegScans) Read(p []byte) (int, error) {
	n, err := j.in.Read(p)
	for _, b := range p[:n] {
		if j.last == 0xff && b == markerSOS {
			j.scans++
		}
		j.last = b
	}
	if j.scans > mostScans {
		return 0, unsupported(otherJPEG, "it goes over its pixels more than %d times", mostScans)
	}
	return n, err
}

// withEnd is a file with the mark EOI behind it, by which a JPEG is to end (ITU-T T.81, B.2.1).
type withEnd struct{ Data }

func (f withEnd) Size() int64 { return f.Data.Size() + 2 }

func (f withEnd) ReadAt(p []byte, at int64) (n int, err error) {
	if at < f.Data.Size() {
		n, err = f.Data.ReadAt(p, at)
	}
	for ; n < len(p) && at+int64(n) >= f.Data.Size(); n++ {
		if at+int64(n) >= f.Size() {
			return n, io.EOF
		}
		p[n], err = [2]byte{0xff, markerEOI}[at+int64(n)-f.Data.Size()], nil
	}
	return n, err
}

// readJPEG walks the segments up to the first scan.
func readJPEG(file io.Reader) (*jpegInfo, *Error) {
	info := &jpegInfo{parts: map[byte][]byte{}}
	in := bufio.NewReader(file)
	in.Discard(2) // SOI: sniff has seen it
	for {
		marker, err := nextMarker(in)
		if err != nil {
			return nil, endsEarly(err, "it ends before its pixels")
		}
		if marker == 0 || (marker >= markerRST0 && marker <= markerSOI) {
			continue
		}
		if marker == markerEOI {
			return nil, malformed("it holds no pixels")
		}
		var length [2]byte
		if _, err := io.ReadFull(in, length[:]); err != nil {
			return nil, endsEarly(err, "it ends before its pixels")
		}
		n := int(binary.BigEndian.Uint16(length[:]))
		if n < 2 {
			return nil, malformed("it ends within its header")
		}
		body := make([]byte, n-2)
		if _, err := io.ReadFull(in, body); err != nil {
			return nil, endsEarly(err, "it ends within its header")
		}
		if marker == markerSOS {
			if info.sof == 0 {
				return nil, malformed("its header is damaged")
			}
			info.inOneScan = info.sof < markerSOF2 && len(body) > 0 && int(body[0]) == info.components
			return info, nil
		}
		if refusal := info.segment(marker, body); refusal != nil {
			return nil, refusal
		}
	}
}

// nextMarker reads up to a marker: what follows one 0xff or several.
func nextMarker(in *bufio.Reader) (byte, error) {
	for filled := false; ; {
		b, err := in.ReadByte()
		if err != nil || filled && b != 0xff {
			return b, err
		}
		filled = b == 0xff
	}
}

// endsEarly says that a file ends too early, or else why it could not be read.
func endsEarly(err error, where string) *Error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return malformed("%s", where)
	}
	return unread(err)
}

func (p *jpegInfo) segment(marker byte, body []byte) *Error {
	switch {
	case marker >= markerSOF0 && marker <= markerSOFF && marker != markerDHT && marker != markerJPG && marker != markerDAC:
		if len(body) < 6 {
			return malformed("its header is damaged")
		}
		p.sof, p.precision, p.components = marker, int(body[0]), int(body[5])
		p.h, p.w = int(binary.BigEndian.Uint16(body[1:])), int(binary.BigEndian.Uint16(body[3:]))
	case marker == markerDQT && p.step == 0:
		p.step = meanStep(body)
	case marker == markerAPP0 && len(body) >= 12 && string(body[:5]) == "JFIF\x00":
		unit := map[byte]float64{1: 1, 2: 2.54}[body[7]]
		p.ppi = plausiblePPI(unit * float64(binary.BigEndian.Uint16(body[8:])))
		p.ppiDown = plausiblePPI(unit * float64(binary.BigEndian.Uint16(body[10:])))
	case marker == markerAPP1 && len(body) > 6 && string(body[:6]) == "Exif\x00\x00":
		orientation, across, down := readExif(body[6:])
		p.orientation = orientation
		if p.ppi == 0 {
			p.ppi, p.ppiDown = across, down
		}
	case marker == markerAPP2 && len(body) > 14 && string(body[:12]) == "ICC_PROFILE\x00":
		p.parts[body[12]] = body[14:]
	}
	return nil
}

// meanStep is the mean of the first of the quantisation tables of a segment
// (ITU-T T.81, B.2.4.1), 0 where it is cut short.
func meanStep(body []byte) float64 {
	if len(body) < 1 {
		return 0
	}
	size := 1 + int(body[0]>>4)
	if size > 2 || len(body) < 1+64*size {
		return 0
	}
	sum := 0
	for i := range 64 {
		if size == 2 {
			sum += int(binary.BigEndian.Uint16(body[1+2*i:]))
		} else {
			sum += int(body[1+i])
		}
	}
	return float64(sum) / 64
}

// profile joins the parts of the ICC profile (ICC.1:2010, annex B.4); nil
// where there is none.
func (p *jpegInfo) profile() []byte {
	var icc []byte
	for i := byte(1); i > 0 && p.parts[i] != nil; i++ {
		icc = append(icc, p.parts[i]...)
	}
	return icc
}

const otherJPEG = "Save it as an ordinary (baseline or progressive) 8-bit JPEG, or better as 16-bit TIFF."

func (p *jpegInfo) check(stored int) *Error {
	switch {
	case p.components == 4:
		return unsupported("Convert it to grey or RGB.", "it is a CMYK JPEG")
	case p.components != 1 && p.components != 3:
		return unsupported(otherJPEG, "it is a JPEG with %d channels", p.components)
	case p.precision != 8:
		return unsupported(otherJPEG, "it is a JPEG with %d bits a channel", p.precision)
	case p.sof > markerSOF2:
		return unsupported(otherJPEG, "it is a lossless, hierarchical or arithmetic-coded JPEG")
	}
	// A block of 8 × 8 pixels takes one bit at least, in any mode of T.81 that
	// is read: 512 pixels a byte.
	return checkSize(p.w, p.h, 1, stored, 512)
}

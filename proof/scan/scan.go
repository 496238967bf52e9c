// Package scan turns the bytes of a scan (TIFF, PNG, JPEG) into planes of
// 16-bit codes, with the curve that makes them linear and the resolution.
//
// Codes are as stored, 0 black and 65535 white: 8-bit codes are multiplied by
// 257, min-is-white files are turned over, the orientation tag is applied.
// Nothing is linearised until a reader looks a code up in Scan.Curves.
package scan

import (
	"bytes"
	"math"
	"runtime"
	"sync"

	"threeply/proof/plane"
)

// Kind is the file format of a scan.
type Kind string

// The kinds that DecodeFrom reads.
const (
	TIFF Kind = "TIFF"
	PNG  Kind = "PNG"
	JPEG Kind = "JPEG"
)

// MaxPixels is the largest picture that DecodeFrom opens: 400 megapixels, a
// 13 × 18 cm plate at 4000 ppi with room to spare.
const MaxPixels = 400e6

// Scan is one decoded file.
type Scan struct {
	Name     string
	Kind     Kind
	W, H     int // pixels, after the orientation tag
	Bits     int // a channel, as stored: 8 to 16, 32 or 64
	Channels int // 1 (grey) or 3 (red, green, blue)

	Planes  []*plane.Plane // Channels planes of codes
	Curves  []Curve        // one a plane; equal curves are shared
	Weights [3]float64     // of linear red, green, blue in the luminance; they add up to 1
	ToXYZ   [9]float64     // linear red, green, blue to XYZ under D50, white at Y 1, row by row; for a grey scan all in the first column

	lookup *lookup // what stands in for Curves, Weights and ToXYZ where colours are looked up in a profile

	Encoding string  // where the curves come from, in words
	Known    Known   // the same in one word
	PPI      float64 // across; 0 where the file has none
	PPIDown  float64 // down; 0 where the file has none
	Step     float64 // of what a lossy compression rounds to, mean over its luminance table in 8-bit codes; 0 where nothing is lost
	Pictures int     // that the file holds, 1 or more; the first is the scan

	Infrared *plane.Plane // codes of a fourth channel; nil where there is none
	Remarks  []string     // what was passed over or made up for in reading, in words
}

// Known says how the encoding of a scan is known.
type Known string

// The ways, surest first.
const (
	Chosen   Known = "chosen"   // Options say it
	Profile  Known = "profile"  // an embedded ICC profile does
	Declared Known = "declared" // the file says it otherwise
	Assumed  Known = "assumed"  // nothing does
)

// Options overrule what a file says of itself.
type Options struct {
	// Encoding of the codes: "" as the file says, "linear", "sRGB", or
	// "gamma 2.2" with any exponent from 0.2 to 5.
	Encoding string

	Page int // which of a TIFF's pictures, from 0; see Pages

	Inflate Inflater // unpacks what is packed by Deflate; nil to have that done here
}

// DecodeFrom reads a scan. name is used in messages only. Every error is an
// *Error. A file without a profile is taken as linear at 16 bits and as sRGB
// at 8. The file is read part by part, about in the order of its rows. Beside the planes a TIFF or
// PNG takes the memory of a row, a JPEG that of its picture in bytes; see decodeJPEG.
func DecodeFrom(name string, data Data, opt Options) (*Scan, error) {
	forced, err := namedEncoding(name, opt.Encoding)
	if err != nil {
		return nil, err
	}
	r, refusal := decode(data, opt)
	if refusal != nil {
		refusal.File = name
		return nil, refusal
	}
	s := &Scan{Name: name, Kind: r.kind, Bits: r.bits, Channels: len(r.planes), PPI: r.ppi, PPIDown: r.ppiDown, Step: r.step, Pictures: max(r.pictures, 1), Infrared: r.infrared, Remarks: r.remarks}
	if s.Infrared != nil {
		s.Infrared = orient(s.Infrared, r.orientation)
	}
	for i, p := range r.planes {
		r.planes[i] = orient(p, r.orientation)
	}
	if s.PPIDown == 0 || s.PPI == 0 { // said of one way only
		s.PPI = max(s.PPI, s.PPIDown)
		s.PPIDown = s.PPI
	}
	if r.orientation >= 5 { // turned by a quarter
		s.PPI, s.PPIDown = s.PPIDown, s.PPI
	}
	s.Planes = r.planes
	s.W, s.H = s.Planes[0].W, s.Planes[0].H
	s.encode(forced, r)
	return s, nil
}

func decode(data Data, opt Options) (*raw, *Error) {
	head, refusal := part(data, 0, min(data.Size(), headBytes))
	if refusal != nil {
		return nil, refusal
	}
	kind, refusal := sniff(head)
	switch {
	case refusal != nil:
		return nil, refusal
	case kind == TIFF:
		return decodeTIFF(data, opt)
	case opt.Page > 0:
		return nil, noPage(opt.Page)
	case kind == PNG:
		return decodePNG(data, opt.Inflate)
	}
	return decodeJPEG(data)
}

// raw is what the format readers hand over.
type raw struct {
	kind        Kind
	planes      []*plane.Plane
	bits        int
	orientation int     // 1 … 8 as in TIFF 6.0, tag 274; 0 for none
	ppi         float64 // across, as stored
	ppiDown     float64
	step        float64        // of a lossy compression, as Scan.Step
	icc         []byte         // embedded profile, if any
	pictures    int            // that the file holds, where its kind can hold several; the first was read
	declared    *encoding      // encoding by the file's other means, if any
	primaries   *[4][2]float64 // chromaticities of red, green, blue and white, if the file gives them
	infrared    *plane.Plane
	remarks     []string
}

// Luminance returns the linear luminance of a colour scan, weighted by
// Weights, as codes, and the curve of those codes: the square of code/65535,
// which keeps a step below 0.002 in density down to density 4. A profile that looks
// colours up gives it itself. A grey scan
// gives its own plane and curve.
func (s *Scan) Luminance() (*plane.Plane, Curve) {
	if s.Channels == 1 {
		return s.Planes[0], s.Curves[0]
	}
	out := plane.New(s.W, s.H)
	var done sync.WaitGroup
	const rows = 64
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	light := s.light()
	for y := 0; y < s.H; y += rows {
		free <- struct{}{}
		done.Go(func() {
			light(out.Pix, y*s.W, min(y+rows, s.H)*s.W)
			<-free
		})
	}
	done.Wait()
	return out, sampled(func(x float64) float64 { return x * x })
}

// light computes codes of Luminance, from one pixel to another.
func (s *Scan) light() func(out []uint16, from, to int) {
	code := func(y float64) uint16 { return uint16(min(math.Sqrt(y)*65535+0.5, 65535)) }
	red, green, blue := s.Planes[0].Pix, s.Planes[1].Pix, s.Planes[2].Pix
	if s.lookup != nil {
		return func(out []uint16, from, to int) {
			for i := from; i < to; i++ {
				if i > from && red[i] == red[i-1] && green[i] == green[i-1] && blue[i] == blue[i-1] {
					out[i] = out[i-1]
					continue
				}
				out[i] = code(within(s.lookup.xyz([3]float64{float64(red[i]) / 65535, float64(green[i]) / 65535, float64(blue[i]) / 65535})[1]))
			}
		}
	}
	r, g, b := s.Curves[0].scaled(s.Weights[0]), s.Curves[1].scaled(s.Weights[1]), s.Curves[2].scaled(s.Weights[2])
	return func(out []uint16, from, to int) {
		for i := from; i < to; i++ {
			out[i] = code(float64(r[red[i]] + g[green[i]] + b[blue[i]]))
		}
	}
}

// headBytes is how much of a file sniff looks at.
const headBytes = 512

// sniff tells the kind of a file by its first bytes, headBytes of them or all.
func sniff(data []byte) (Kind, *Error) {
	const remedy = "Save the scan as TIFF, PNG or JPEG."
	starts := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	switch {
	case len(data) == 0:
		return "", &Error{Reason: "the file is empty (0 bytes)", Remedy: "Copy or scan it again."}
	case starts("II*\x00\x10\x00\x00\x00CR"), starts("IIU\x00"), starts("IIRO"), starts("IIRS"), starts("MMOR"), len(data) >= 12 && string(data[4:11]) == "ftypcrx":
		return "", &Error{Reason: "it is the raw file of a camera", Remedy: "Develop it without corrections and save it as 16-bit TIFF.", Unsupported: true}
	case starts("II*\x00"), starts("MM\x00*"), starts("II+\x00"), starts("MM\x00+"):
		return TIFF, nil
	case starts("\x89PNG\r\n\x1a\n"):
		return PNG, nil
	case starts("\xff\xd8\xff"):
		return JPEG, nil
	case starts("GIF8"):
		return "", &Error{Reason: "it is a GIF", Remedy: remedy, Unsupported: true}
	case starts("BM"):
		return "", &Error{Reason: "it is a BMP", Remedy: remedy, Unsupported: true}
	case starts("RIFF"):
		return "", &Error{Reason: "it is a WebP or another RIFF file", Remedy: remedy, Unsupported: true}
	case starts("%PDF"):
		return "", &Error{Reason: "it is a PDF", Remedy: remedy, Unsupported: true}
	case starts("PK\x03\x04"):
		return "", &Error{Reason: "it is a ZIP archive", Remedy: "Unpack it and open the scans themselves.", Unsupported: true}
	case starts("\x00\x00\x00\x0cjP"), starts("\xff\x4f\xff\x51"):
		return "", &Error{Reason: "it is a JPEG 2000", Remedy: remedy, Unsupported: true}
	case starts("\x00\x00\x00\x0cJXL "), starts("\xff\x0a"):
		return "", &Error{Reason: "it is a JPEG XL", Remedy: remedy, Unsupported: true}
	case len(data) >= 12 && string(data[4:8]) == "ftyp":
		return "", &Error{Reason: "it is a HEIF, AVIF or video file", Remedy: remedy, Unsupported: true}
	case isText(data):
		return "", &Error{Reason: "it holds text, not a picture, whatever its name says", Remedy: remedy, Unsupported: true}
	}
	return "", &Error{Reason: "it is not a TIFF, PNG or JPEG, or its beginning is damaged", Remedy: remedy, Unsupported: true}
}

// isText says whether the beginning of data holds printable text only.
func isText(data []byte) bool {
	for _, c := range data[:min(len(data), headBytes)] {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' && c != '\f' {
			return false
		}
	}
	return true
}

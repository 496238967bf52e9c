package scan

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"slices"
	"strings"
	"testing"
)

// jpegFile encodes img at full quality with segments put after its start.
func jpegFile(img image.Image, segments ...[]byte) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 100}); err != nil {
		panic(err)
	}
	out := bytes.Clone(b.Bytes()[:2])
	for _, s := range segments {
		out = append(out, s...)
	}
	return append(out, b.Bytes()[2:]...)
}

func segment(marker byte, body string) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(body)+2)), body...)
}

func TestJPEGPixelsComeThrough(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 40, 24))
	colour := image.NewRGBA(image.Rect(0, 0, 40, 24))
	for i := range 40 * 24 {
		x, y := i%40, i/40
		grey.SetGray(x, y, color.Gray{byte(40 + 3*x + 2*y)})
		colour.SetRGBA(x, y, color.RGBA{byte(60 + 2*x), byte(150 - x - y), byte(80 + 3*y), 255})
	}
	for _, img := range []image.Image{grey, colour} {
		s, err := Decode("a.jpg", jpegFile(img), Options{})
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for i := range 40 * 24 {
			r, g, b, _ := img.At(i%40, i/40).RGBA()
			for k, p := range s.Planes {
				worst = max(worst, math.Abs(float64(p.Pix[i])-float64([3]uint32{r, g, b}[k])))
			}
		}
		if s.Kind != JPEG || s.Bits != 8 || worst > 5*257 { // chroma is at half resolution
			t.Errorf("%d channels, %d bits, off by %g", s.Channels, s.Bits, worst)
		}
	}
}

func TestJPEGMetadata(t *testing.T) {
	jfif := func(unit byte, density uint16) []byte {
		return segment(markerAPP0, "JFIF\x00\x01\x01"+string([]byte{unit, byte(density >> 8), byte(density)})+"\x00\x01\x00\x00")
	}
	exif := segment(markerAPP1, "Exif\x00\x00"+string(tiffFile{w: 1, h: 1, bits: 8, samples: 1, pixels: []uint16{0},
		tags: map[int]any{tagOrientation: 6, tagXResolution: [2]int{1200, 1}}}.bytes()))
	icc := string(profile("GRAY", "XYZ ", map[string][]byte{"kTRC": curvTag()}))
	second, first := segment(markerAPP2, "ICC_PROFILE\x00\x02\x02"+icc[100:]), segment(markerAPP2, "ICC_PROFILE\x00\x01\x02"+icc[:100])
	for _, c := range []struct {
		segments [][]byte
		ppi      float64
		w        int
		words    string
	}{
		{nil, 0, 16, "sRGB (8 bits, no profile)"},
		{[][]byte{jfif(1, 600)}, 600, 16, "sRGB (8 bits, no profile)"},
		{[][]byte{jfif(2, 1000)}, 2540, 16, "sRGB (8 bits, no profile)"},
		{[][]byte{jfif(0, 1)}, 0, 16, "sRGB (8 bits, no profile)"},
		{[][]byte{exif}, 1200, 9, "sRGB (8 bits, no profile)"},
		{[][]byte{second, first}, 0, 16, "ICC profile “a scale”"},
	} {
		s, err := Decode("a.jpg", jpegFile(grey8(16, 9), c.segments...), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s.PPI != c.ppi || s.W != c.w || s.Encoding != c.words {
			t.Errorf("%g ppi, %d wide, %q; want %g, %d, %q", s.PPI, s.W, s.Encoding, c.ppi, c.w, c.words)
		}
	}
}

func TestJPEGRefusals(t *testing.T) {
	whole := jpegFile(grey8(64, 64))
	frame := func(marker, bits byte, w, h uint16, components byte) []byte {
		body := []byte{bits, byte(h >> 8), byte(h), byte(w >> 8), byte(w), components}
		return append(append([]byte{0xff, markerSOI}, segment(marker, string(body))...), segment(markerSOS, "\x00\x00")...)
	}
	for _, c := range []struct {
		name        string
		data        []byte
		reason      string
		unsupported bool
	}{
		{"cut.jpg", whole[:len(whole)/2], "damaged or cut short", false},
		{"head.jpg", whole[:30], "ends within its header", false},
		{"start.jpg", whole[:3], "ends before its pixels", false},
		{"end.jpg", []byte{0xff, 0xd8, 0xff, 0xd9}, "no pixels", false},
		{"cmyk.jpg", frame(0xc0, 8, 10, 10, 4), "CMYK", true},
		{"12.jpg", frame(0xc1, 12, 10, 10, 1), "12 bits", true},
		{"lossless.jpg", frame(0xc3, 8, 10, 10, 1), "lossless", true},
		{"large.jpg", frame(0xc0, 8, 60000, 60000, 1), "3600 megapixels", true},
		{"false.jpg", frame(0xc0, 8, 10000, 10000, 1), "too few", false},
		{"two.jpg", frame(0xc0, 8, 10, 10, 2), "2 channels", true},
	} {
		checkRefusal(t, c.name, c.data, c.reason, c.unsupported)
	}
}

// A JPEG that lacks nothing but the mark at its end, or half of that, is opened and said; one that
// lacks pixels is not.
func TestJPEGWithoutItsEnd(t *testing.T) {
	colour := image.NewRGBA(image.Rect(0, 0, 40, 24))
	for i, v := range noise(len(colour.Pix), 256) {
		colour.Pix[i] = byte(v) | byte(i%4/3*255)
	}
	for name, img := range map[string]image.Image{"grey": grey8(40, 24), "colour": colour} {
		data := jpegFile(img)
		whole, err := Decode(name, data, Options{})
		if err != nil || len(whole.Remarks) > 0 {
			t.Fatal(whole.Remarks, err)
		}
		for short, opens := range map[int]bool{1: true, 2: true, 12: false, len(data) / 2: false} {
			s, err := Decode(name, data[:len(data)-short], Options{})
			switch {
			case (err == nil) != opens:
				t.Errorf("%s, %d bytes short: %v", name, short, err)
			case opens && (len(s.Remarks) != 1 || !strings.Contains(s.Remarks[0], "the mark at its end is missing")):
				t.Errorf("%s, %d bytes short: %q", name, short, s.Remarks)
			case opens:
				for i, p := range s.Planes {
					if !slices.Equal(p.Pix, whole.Planes[i].Pix) {
						t.Errorf("%s, %d bytes short: other pixels", name, short)
					}
				}
			}
		}
	}
}

// A few bytes more have a decoder go over all pixels again: a JPEG that does so too often is refused,
// one of ten scans is not.
func TestJPEGOfManyScans(t *testing.T) {
	whole := jpegFile(grey8(16, 16))
	at := bytes.Index(whole, []byte{0xff, markerSOS})
	again := whole[at : len(whole)-2]
	of := func(scans int) []byte {
		return slices.Concat(whole[:at], bytes.Repeat(again, scans), whole[len(whole)-2:])
	}
	want, err := Decode("a.jpg", whole, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if s, err := Decode("a.jpg", of(10), Options{}); err != nil || !slices.Equal(s.Planes[0].Pix, want.Planes[0].Pix) {
		t.Errorf("of ten scans: other pixels, or error %v", err)
	}
	checkRefusal(t, "a.jpg", of(mostScans+1), "goes over its pixels more than 500 times", true)
}

// A JPEG is read as it is decoded: no large part of the file lies in memory.
func TestJPEGIsReadInParts(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i, v := range noise(len(img.Pix), 256) {
		img.Pix[i] = byte(v)
	}
	data := &measured{Bytes: jpegFile(img)}
	if _, err := DecodeFrom("a.jpg", data, Options{}); err != nil {
		t.Fatal(err)
	}
	if data.Size() < 100_000 || data.largest > 4096 { // what the libraries read at a time
		t.Errorf("of %d bytes %d are asked for at once", data.Size(), data.largest)
	}
}

// measured keeps how much is asked for at once.
type measured struct {
	Bytes
	largest int
}

func (m *measured) ReadAt(p []byte, at int64) (int, error) {
	m.largest = max(m.largest, len(p))
	return m.Bytes.ReadAt(p, at)
}

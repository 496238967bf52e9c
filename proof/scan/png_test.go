package scan

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"image"
	"image/color"
	"math"
	"testing"
)

func grey16(w, h int) *image.Gray16 {
	img := image.NewGray16(image.Rect(0, 0, w, h))
	for i, v := range noise(w*h, 65536) {
		img.SetGray16(i%w, i/w, color.Gray16{Y: v})
	}
	return img
}

func grey8(w, h int) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i, v := range noise(w*h, 256) {
		img.Pix[i] = byte(v)
	}
	return img
}

func TestPNGPixelsComeThrough(t *testing.T) {
	colour := image.NewNRGBA(image.Rect(0, 0, 9, 7))
	deep := image.NewNRGBA64(image.Rect(0, 0, 9, 7))
	indexed := image.NewPaletted(image.Rect(0, 0, 9, 7), color.Palette{color.Gray{10}, color.Gray{200}, color.Gray{90}})
	for i, v := range noise(63, 65536) {
		colour.Set(i%9, i/9, color.NRGBA{byte(v), byte(v >> 3), byte(v >> 5), 255})
		deep.Set(i%9, i/9, color.NRGBA64{v, v / 2, v / 3, 65535})
		indexed.Pix[i] = byte(v % 3)
	}
	for _, c := range []struct {
		name           string
		img            image.Image
		bits, channels int
	}{{"grey 8", grey8(9, 7), 8, 1}, {"grey 16", grey16(9, 7), 16, 1}, {"colour 8", colour, 8, 3}, {"colour 16", deep, 16, 3}, {"indexed", indexed, 8, 1}} {
		s, err := Decode(c.name, pngFile(c.img), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s.Kind != PNG || s.W != 9 || s.H != 7 || s.Bits != c.bits || s.Channels != c.channels {
			t.Errorf("%s: %+v", c.name, s)
		}
		for i := range 63 {
			r, g, b, _ := c.img.At(i%9, i/9).RGBA()
			want := [3]uint32{r, g, b}
			for k, p := range s.Planes {
				if uint32(p.Pix[i]) != want[k] {
					t.Fatalf("%s: pixel %d of channel %d: %d, want %d", c.name, i, k, p.Pix[i], want[k])
				}
			}
		}
	}
}

func phys(perMetre int, unit byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(perMetre))
	return pngChunk("pHYs", append(binary.BigEndian.AppendUint32(b, uint32(perMetre)), unit))
}

func gama(v int) []byte { return pngChunk("gAMA", binary.BigEndian.AppendUint32(nil, uint32(v))) }

func iccp(profile []byte) []byte {
	body := bytes.NewBufferString("a profile\x00\x00")
	z := zlib.NewWriter(body)
	z.Write(profile)
	z.Close()
	return pngChunk("iCCP", body.Bytes())
}

func TestPNGSaysItsEncoding(t *testing.T) {
	grey := profile("GRAY", "XYZ ", map[string][]byte{"kTRC": curvTag(0x1cd)}) // 1.80078125
	colour := profile("RGB ", "XYZ ", nil)
	for _, c := range []struct {
		chunks [][]byte
		words  string
		want   float64 // linear of code 128/255
	}{
		{[][]byte{gama(45455)}, "gamma 2.2 (PNG)", math.Pow(128./255, 1/0.45455)},
		{[][]byte{gama(100000)}, "linear (PNG gamma 1)", 128. / 255},
		{[][]byte{pngChunk("sRGB", []byte{0}), gama(100000)}, "sRGB (PNG)", 0.2158605},
		{[][]byte{gama(100000), iccp(grey)}, "ICC profile “a scale”", math.Pow(128./255, 1.80078125)},
		{[][]byte{cicp(1, 13, 1), gama(100000), iccp(grey)}, "sRGB (PNG)", 0.2158605},
		{[][]byte{pngChunk("sRGB", []byte{0}), cicp(12, 8, 1)}, "linear (PNG)", 128. / 255},
		{[][]byte{cicp(1, 1, 1)}, "BT.709 (PNG)", math.Pow((128./255+0.099)/1.099, 1/0.45)},
		{[][]byte{cicp(2, 2, 1), gama(100000)}, "linear (PNG gamma 1)", 128. / 255}, // 2 says that it is not known
		{[][]byte{cicp(1, 2, 1), gama(100000)}, "linear (PNG gamma 1)", 128. / 255},
		{[][]byte{gama(0)}, "sRGB (8 bits, no profile)", 0.2158605},
		{[][]byte{iccp(colour)}, "sRGB (8 bits, no profile); its ICC profile is not used: it is for RGB, the file is grey", 0.2158605},
	} {
		s, err := Decode("a.png", pngFile(grey8(3, 3), c.chunks...), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(s.Curves[0][128*257]); math.Abs(got-c.want) > 1e-6 || s.Encoding != c.words {
			t.Errorf("%g, %q; want %g, %q", got, s.Encoding, c.want, c.words)
		}
	}
}

// cicp is a chunk of code points: primaries, curve, no matrix, whether codes take the full range.
func cicp(primaries, curve, full byte) []byte {
	return pngChunk("cICP", []byte{primaries, curve, 0, full})
}

// Codes of video are refused by name. Numbers by ITU-T H.273 (from memory).
func TestPNGOfVideo(t *testing.T) {
	for _, c := range []struct {
		chunk []byte
		name  string
	}{{cicp(9, 16, 1), "(PQ)"}, {cicp(9, 18, 1), "(HLG)"}, {cicp(1, 1, 0), "(narrow range)"}} {
		checkRefusal(t, "a.png", pngFile(grey8(3, 3), c.chunk), "its codes are those of video "+c.name, true)
	}
}

// The primaries of ITU-R BT.2020 weigh 0.2627, 0.6780, 0.0593 in luminance (Recommendation
// BT.2020-2, table 4); those of P3 with the white D65 0.2290, 0.6917, 0.0793 (from memory), both before
// they are adapted to D50, which moves them by some hundredths.
func TestPNGCodePointsOfPrimaries(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 2, 2))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for number, want := range map[byte][3]float64{1: rec709, 9: {0.2627, 0.6780, 0.0593}, 12: {0.2290, 0.6917, 0.0793}} {
		s, err := Decode("a.png", pngFile(img, cicp(number, 13, 1)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range s.Weights {
			if math.Abs(w-want[i]) > 0.02 {
				t.Errorf("primaries %d weigh %.4f, want about %.4f", number, s.Weights, want)
			}
		}
	}
}

// The resolution of an Exif block counts where there is no other.
func TestPNGResolutionByExif(t *testing.T) {
	exif := pngChunk("eXIf", tiffFile{w: 1, h: 1, bits: 8, samples: 1, pixels: []uint16{0}, tags: map[int]any{tagXResolution: [2]int{600, 1}, tagYResolution: [2]int{600, 1}, tagOrientation: 6}}.bytes())
	for want, chunks := range map[float64][][]byte{600: {exif}, 2399.9952: {exif, phys(94488, 1)}, 2399.99521: {phys(94488, 1), exif}} {
		s, err := Decode("a.png", pngFile(grey8(3, 2), chunks...), Options{})
		if err != nil || math.Abs(s.PPI-want) > 1e-4 || math.Abs(s.PPIDown-want) > 1e-4 || s.W != 2 {
			t.Errorf("%v, %v; want %g ppi", s, err, want)
		}
	}
}

func TestPNGResolution(t *testing.T) {
	for _, c := range []struct {
		chunk []byte
		want  float64
	}{{phys(94488, 1), 2399.9952}, {phys(94488, 0), 0}, {phys(0, 1), 0}} {
		s, err := Decode("a.png", pngFile(grey8(3, 3), c.chunk), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.PPI-c.want) > 1e-6 {
			t.Errorf("%g ppi, want %g", s.PPI, c.want)
		}
	}
}

// A byte that is wrong in what stands before the pixels, such as the curve, the profile or the
// palette, is never passed over.
func TestPNGHeaderDamaged(t *testing.T) {
	indexed := image.NewPaletted(image.Rect(0, 0, 9, 7), color.Palette{color.RGBA{10, 20, 30, 255}, color.RGBA{200, 40, 6, 255}})
	data := pngFile(indexed, gama(45455), iccp(profile("RGB ", "XYZ ", nil)), phys(94488, 1), pngChunk("tEXt", []byte("Software\x00a scanner's")))
	if _, err := Decode("whole.png", data, Options{}); err != nil {
		t.Fatal(err)
	}
	for at := 8; at < bytes.Index(data, []byte("IDAT"))-4; at++ {
		for _, bit := range []byte{1, 32} {
			broken := bytes.Clone(data)
			broken[at] ^= bit
			if _, err := Decode("broken.png", broken, Options{}); err == nil {
				t.Errorf("byte %d of %q is wrong, and the file is opened", at, data[at-at%4:][:8])
			}
		}
	}
}

func TestPNGRefusals(t *testing.T) {
	whole := pngFile(grey16(40, 30))
	header := func(w, h, bits, colour int) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(w))
		b = append(binary.BigEndian.AppendUint32(b, uint32(h)), byte(bits), byte(colour), 0, 0, 0)
		return append(append([]byte("\x89PNG\r\n\x1a\n"), pngChunk("IHDR", b)...), pngChunk("IDAT", make([]byte, 50))...)
	}
	clear := image.NewNRGBA(image.Rect(0, 0, 4, 4))
	broken := bytes.Clone(whole)
	broken[200] ^= 0xff
	for _, c := range []struct {
		name        string
		data        []byte
		reason      string
		unsupported bool
	}{
		{"cut.png", whole[:len(whole)/2], "damaged or cut short", false},
		{"head.png", whole[:19], "ends before its pixels", false},
		{"header.png", whole[:25], "ends within its header", false},
		{"broken.png", broken, "damaged", false},
		{"billion.png", header(40000, 25000, 16, 0), "1000 megapixels", true},
		{"huge.png", header(15000, 15000, 16, 0), "too few", false},
		{"zero.png", header(0, 10, 8, 0), "0 × 10 pixels", false},
		{"bilevel.png", header(10, 10, 1, 0), "1 bit a channel", true},
		{"odd.png", header(10, 10, 8, 1), "header is damaged", false},
		{"clear.png", pngFile(clear), "all of it is transparent", true},
	} {
		checkRefusal(t, c.name, c.data, c.reason, c.unsupported)
	}
}

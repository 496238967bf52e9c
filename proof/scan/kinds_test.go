package scan

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A last strip that is a few bytes short is opened and said; one that lacks more than a
// row is not.
func TestLastStripShort(t *testing.T) {
	for _, compression := range []int{compressionNone, compressionDeflate} {
		f := tiffFile{w: 20, h: 9, bits: 16, samples: 1, pixels: noise(180, 65536), rows: 4, compression: compression}
		whole, err := Decode("whole.tif", f.bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		f.pixels = f.pixels[:177]
		s, err := Decode("short.tif", f.bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Planes[0].Pix; !slices.Equal(got[:177], whole.Planes[0].Pix[:177]) || !slices.Equal(got[177:], got[157:160]) {
			t.Errorf("compression %d: the last row is %v", compression, got[160:])
		}
		if len(s.Remarks) != 1 || !strings.Contains(s.Remarks[0], "last 6 bytes of its last row are missing") {
			t.Errorf("compression %d: %q", compression, s.Remarks)
		}
		f.pixels = f.pixels[:159]
		if _, err := Decode("short.tif", f.bytes(), Options{}); err == nil {
			t.Errorf("compression %d: a picture without its last row was opened", compression)
		}
	}
}

// The file ends a few bytes before the last strip does.
func TestFileEndsAFewBytesEarly(t *testing.T) {
	f := tiffFile{w: 20, h: 9, bits: 16, samples: 1, pixels: noise(180, 65536)}
	data := f.bytes()
	directory := int(binary.LittleEndian.Uint32(data[4:]))
	moved := append(bytes.Clone(data[:8]), data[directory:]...) // the directory first, then the pixels
	binary.LittleEndian.PutUint32(moved[4:], 8)
	for at := 10; ; at += 12 {
		if tag := binary.LittleEndian.Uint16(moved[at:]); tag == tagStripOffsets {
			binary.LittleEndian.PutUint32(moved[at+8:], uint32(len(moved)))
			break
		}
	}
	moved = append(moved, data[8:8+360]...)
	for short, opens := range map[int]bool{0: true, 1: true, 39: true, 40: false, 100: false} {
		s, err := Decode("early.tif", moved[:len(moved)-short], Options{})
		if (err == nil) != opens {
			t.Errorf("%d bytes short: %v", short, err)
		}
		if opens && short > 0 && (s == nil || len(s.Remarks) != 1) {
			t.Errorf("%d bytes short: said nothing", short)
		}
	}
}

// Where all pictures of the chain are reduced copies the full one may stand in a
// sub-directory; where the first is one, the next full picture is taken.
func TestFullPictureBehindAReducedOne(t *testing.T) {
	small := tiffFile{w: 2, h: 2, bits: 16, samples: 1, pixels: noise(4, 65536), tags: map[int]any{tagSubfile: 1, tagSubDirectories: 0}}
	large := tiffFile{w: 8, h: 4, bits: 16, samples: 1, pixels: noise(32, 65536)}
	for _, inChain := range []bool{true, false} {
		data := small.bytes()
		d := binary.LittleEndian
		first := int(d.Uint32(data[4:]))
		entries := int(d.Uint16(data[first:]))
		at := len(data)
		more := large.bytes()
		link := int(d.Uint32(more[4:]))
		data = append(data, more...)
		for e := at + link + 2; e < len(data)-4; e += 12 {
			if tag := d.Uint16(data[e:]); tag == tagStripOffsets {
				d.PutUint32(data[e+8:], uint32(at)+d.Uint32(data[e+8:]))
			}
		}
		if inChain {
			d.PutUint32(data[first+2+12*entries:], uint32(at+link))
		} else {
			for e := first + 2; ; e += 12 {
				if d.Uint16(data[e:]) == tagSubDirectories {
					d.PutUint32(data[e+8:], uint32(at+link))
					break
				}
			}
		}
		s, err := Decode("copies.tif", data, Options{})
		if err != nil || s.W != 8 || !slices.Equal(s.Planes[0].Pix, large.pixels) {
			t.Errorf("in chain %v: %v, %v", inChain, s, err)
		}
	}
}

// A small copy that is not marked as one is passed over, before the picture as behind it; what is
// small but another picture is not.
func TestSmallCopiesAreNoPictures(t *testing.T) {
	need(t, "tiffcp")
	dir := t.TempDir()
	write := func(name string, w, h int) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, tiffFile{w: w, h: h, bits: 8, samples: 1, pixels: noise(w*h, 256)}.bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	whole, copied, label := write("whole.tif", 101, 64), write("copy.tif", 25, 16), write("label.tif", 16, 16)
	for _, c := range []struct {
		pages    []string
		w, count int
	}{{[]string{copied, whole}, 101, 1}, {[]string{whole, copied}, 101, 1}, {[]string{copied}, 25, 1}, {[]string{whole, label}, 101, 2}, {[]string{label, whole}, 16, 2}, {[]string{whole, whole, whole}, 101, 3},
		{[]string{whole, copied, whole}, 101, 3}, {[]string{whole, copied, copied}, 101, 1}, {[]string{whole, copied, whole, copied, whole, copied}, 101, 3}} {
		to := filepath.Join(dir, "pages.tif")
		tool(t, "tiffcp", append(slices.Clone(c.pages), to)...)
		data, _ := os.ReadFile(to)
		s, err := Decode("pages.tif", data, Options{})
		if err != nil || s.W != c.w || s.Pictures != c.count || len(Pages(Bytes(data))) != c.count {
			t.Errorf("%q: %+v, %v; want %d wide, %d pictures", c.pages, s, err, c.w, c.count)
		}
	}
}

// Floating-point values: white by the tag of the largest value, few above it said, no
// numbers black.
func TestFloatingPoint(t *testing.T) {
	values := make([]float32, 100)
	for i := range values {
		values[i] = float32(i) / 50
	}
	values[0], values[1], values[2] = float32(math.NaN()), -0.5, 2.5
	var pixels []uint16 // the numbers, cut in two
	for _, v := range values {
		b := math.Float32bits(v)
		pixels = append(pixels, uint16(b), uint16(b>>16))
	}
	f := tiffFile{w: 200, h: 1, bits: 16, samples: 1, pixels: pixels, tags: map[int]any{tagWidth: 100, tagBits: []int{32}, tagSampleFormat: formatFloat, tagLargest: [2]int{2, 1}}}
	s, err := Decode("float.tif", f.bytes(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range s.Planes[0].Pix {
		want := uint16(float64(i)/100*65535 + 0.5)
		switch i {
		case 0, 1:
			want = 0
		case 2:
			want = 65535
		}
		if v != want && v+1 != want { // 0.9 is not quite 0.9 in binary
			t.Errorf("value %d: %d, want %d", i, v, want)
		}
	}
	if len(s.Remarks) != 2 || !strings.HasPrefix(s.Remarks[0], "1 of its values lie above white") || s.Encoding != "linear (32 bits, no profile)" {
		t.Errorf("%q, %q", s.Remarks, s.Encoding)
	}
}

// Values of IEEE 754-2008, binary16, by its definition; table of the interchange format.
func TestHalf(t *testing.T) {
	for b, want := range map[uint16]float64{0x3c00: 1, 0x3800: 0.5, 0xc000: -2, 0x7bff: 65504, 0x0400: math.Ldexp(1, -14), 0x0001: math.Ldexp(1, -24), 0: 0, 0x7c00: math.Inf(1)} {
		if got := half(b); got != want {
			t.Errorf("%04x: %g, want %g", b, got, want)
		}
	}
	if !math.IsNaN(half(0x7e00)) {
		t.Error("no number came out as one")
	}
}

// The table of a transfer function (TIFF 6.0, page 84) is the encoding; a profile goes
// before it.
func TestTransferFunction(t *testing.T) {
	table := make([]byte, 0, 512)
	for i := range 256 {
		table = binary.LittleEndian.AppendUint16(table, uint16(65535*math.Pow(float64(i)/255, 1.8)+0.5))
	}
	f := tiffFile{w: 2, h: 1, bits: 8, samples: 1, pixels: []uint16{10, 200}, tags: map[int]any{tagTransfer: table}}
	data := f.bytes()
	for at := int(binary.LittleEndian.Uint32(data[4:])) + 2; ; at += 12 { // as shorts
		if binary.LittleEndian.Uint16(data[at:]) == tagTransfer {
			binary.LittleEndian.PutUint16(data[at+2:], typeShort)
			binary.LittleEndian.PutUint32(data[at+4:], 256)
			break
		}
	}
	s, err := Decode("table.tif", data, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := float64(s.Curves[0][200*257]), math.Pow(200./255, 1.8); math.Abs(got-want) > 1e-5 || s.Known != Declared {
		t.Errorf("%g, want %g; %s", got, want, s.Known)
	}
}

// Chromaticities of ITU-R BT.709 in a PNG's cHRM chunk give that standard's weights, and
// others give other ones: Adobe RGB (1998), 4.3.1.1, weighs 0.29734, 0.62736, 0.07529.
func TestChromaticities(t *testing.T) {
	chrm := func(values ...int) []byte {
		var b []byte
		for _, v := range values {
			b = binary.BigEndian.AppendUint32(b, uint32(v))
		}
		return pngChunk("cHRM", b)
	}
	img := image.NewRGBA(image.Rect(0, 0, 2, 2))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	// Against the luminances of the primaries under D65, before they are adapted to D50:
	// adapting moves them a little, as the matrices of the ICC profiles of both show.
	for _, c := range []struct {
		chunk []byte
		want  [3]float64
	}{
		{chrm(31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000), [3]float64{0.2225, 0.7169, 0.0606}},
		{chrm(31270, 32900, 64000, 33000, 21000, 71000, 15000, 6000), [3]float64{0.3111, 0.6257, 0.0632}},
	} {
		s, err := Decode("a.png", pngFile(img, c.chunk, gama(45455)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range s.Weights {
			if math.Abs(w-c.want[i]) > 2e-4 {
				t.Errorf("weights %.4f, want %.4f", s.Weights, c.want)
			}
		}
		if got := s.Middle(); math.Abs(got[1]-100) > 0.01 || math.Abs(got[0]-96.42) > 0.02 || math.Abs(got[2]-82.49) > 0.02 {
			t.Errorf("white is XYZ %.3f", got)
		}
	}
}

// JPEG in TIFF with the tables in the directory, the lowest bits first, min-is-white.
func TestJPEGInTIFF(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 16, 16))
	for i := range img.Pix {
		img.Pix[i] = byte(100 + i/16*4)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	stored := make([]uint16, b.Len())
	for i, v := range b.Bytes() {
		stored[i] = uint16(v)
	}
	f := tiffFile{w: len(stored), h: 1, bits: 8, samples: 1, pixels: stored,
		tags: map[int]any{tagWidth: 16, tagHeight: 16, tagRowsPerStrip: 16, tagCompression: compressionJPEG, tagPhotometric: photometricWhiteIsZero}}
	s, err := Decode("jpeg.tif", f.bytes(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range s.Planes[0].Pix {
		if d := int(v/257) - int(255-img.Pix[i]); d < -2 || d > 2 {
			t.Fatalf("pixel %d: %d, want about %d", i, v/257, 255-img.Pix[i])
		}
	}
	if !(s.Step > 0) {
		t.Error("the step of its compression is not said")
	}
}

package scan

import (
	"errors"
	"runtime"
	"slices"
	"testing"
)

// stopping is a file whose reading is given up after so many bytes, as when a user stops it.
type stopping struct {
	Bytes
	left int
	why  *Error
}

func (s *stopping) ReadAt(p []byte, at int64) (int, error) {
	if s.left -= len(p); s.left < 0 {
		return 0, s.why
	}
	return s.Bytes.ReadAt(p, at)
}

// Strips that several processors unpack give the pixels that were written; damage is told of
// the first strip that has some, and a reading that is given up ends with the reason.
func TestUnpackedBySeveral(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	const w, h = 100, 400
	pixels := noise(w*h, 65536)
	for _, compression := range []int{compressionLZW, compressionDeflate, compressionPackBits} {
		file := tiffFile{w: w, h: h, bits: 16, samples: 1, pixels: pixels, compression: compression, rows: 1}
		data := file.bytes()
		s, err := Decode("plate.tif", data, Options{})
		if err != nil {
			t.Fatalf("compression %d: %v", compression, err)
		}
		if !slices.Equal(s.Planes[0].Pix, pixels) {
			t.Errorf("compression %d: other pixels than were written", compression)
		}

		why := malformed("it was given up")
		_, err = DecodeFrom("plate.tif", &stopping{data, len(data) / 2, why}, Options{})
		if own, ok := errors.AsType[*Error](err); !ok || own.Reason != why.Reason {
			t.Errorf("compression %d: given up, and the error is %v", compression, err)
		}
	}

	// two strips whose first byte says that no Deflate follows, and between them one that ends early
	data := tiffFile{w: w, h: h, bits: 16, samples: 1, pixels: pixels, compression: compressionDeflate, rows: 1}.bytes()
	damaged := func(strips ...int) error {
		broken := slices.Clone(data)
		for _, n := range strips {
			broken[stripAt(t, data, n)] = 0xff
		}
		_, err := Decode("plate.tif", broken, Options{})
		return err
	}
	alone, both := damaged(5), damaged(5, 9)
	if alone == nil || both == nil || alone.Error() != both.Error() {
		t.Errorf("one strip is damaged: %v; another one too: %v", alone, both)
	}
}

// stripAt is where a strip of a file begins.
func stripAt(t *testing.T, data Bytes, n int) int {
	t.Helper()
	dirs, refusal := pictures(data)
	if refusal != nil {
		t.Fatal(refusal)
	}
	return dirs[0].value(tagStripOffsets, n, 0)
}

// What several processors find while they unpack is counted as by one: values above white, such
// as are no numbers, pixels that are transparent.
func TestFoundBySeveral(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	const w, h = 100, 400
	floats := tiffFile{w: w, h: h, bits: 16, samples: 1, pixels: slices.Repeat([]uint16{0x3800, 0x7e00, 0x3c01, 0x3800, 0x3400, 0x3800, 0x3400, 0x3800, 0x3400, 0x3800,
		0x3400, 0x3800, 0x3400, 0x3800, 0x3400, 0x3800, 0x3400, 0x3800, 0x3400, 0x3800, 0x3400, 0x3800, 0x3400, 0x3800, 0x3400}, w*h/25),
		compression: compressionDeflate, rows: 1, tags: map[int]any{tagSampleFormat: formatFloat}}.bytes() // a value below white, no number, 1.001, and twenty-two below white
	clear := tiffFile{w: w, h: h, bits: 16, samples: 2, pixels: make([]uint16, 2*w*h), compression: compressionDeflate, rows: 1, tags: map[int]any{tagExtraSamples: 2}}.bytes()
	for range 20 {
		s, err := Decode("floats.tif", floats, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if want := []string{"1600 of its values lie above white and were taken as white", "1600 of its values are no numbers and were taken as black"}; !slices.Equal(s.Remarks, want) {
			t.Errorf("%q, want %q", s.Remarks, want)
		}
		checkRefusal(t, "clear.tif", clear, "all of it is transparent", true)
	}
}

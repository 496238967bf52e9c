package scan

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// elsewhere is a file that does not lie in memory. It keeps the longest piece
// that was asked for, and fails from an offset on.
type elsewhere struct {
	Bytes
	longest int
	fails   int64
	err     error
}

func (e *elsewhere) ReadAt(p []byte, at int64) (int, error) {
	e.longest = max(e.longest, len(p))
	if e.err != nil && at+int64(len(p)) > e.fails {
		return 0, e.err
	}
	return e.Bytes.ReadAt(p, at)
}

func TestDecodeFromElsewhere(t *testing.T) {
	grey := tiffFile{w: 64, h: 48, bits: 16, samples: 1, pixels: make([]uint16, 64*48), rows: 8}
	for i := range grey.pixels {
		grey.pixels[i] = uint16(i)
	}
	for name, data := range map[string][]byte{"a.tif": grey.bytes(), "a.png": pngFile(grey8(9, 7)), "a.jpg": jpegFile(grey8(16, 9))} {
		want, err := Decode(name, data, Options{})
		if err != nil {
			t.Fatal(err)
		}
		file := &elsewhere{Bytes: data}
		got, err := DecodeFrom(name, file, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got.Planes[0].Pix, want.Planes[0].Pix) || got.Kind != want.Kind {
			t.Errorf("%s: read in pieces it is another picture", name)
		}
		if name == "a.tif" && file.longest > 64*8*2 {
			t.Errorf("%s: %d bytes were read at once, a strip has %d", name, file.longest, 64*8*2)
		}
	}
}

func TestDecodeFromWhatCannotBeRead(t *testing.T) {
	gone := &Error{Reason: "it is no longer there", Remedy: "Drop it again."}
	for name, data := range map[string][]byte{
		"a.tif": tiffFile{w: 64, h: 48, bits: 16, samples: 1, pixels: make([]uint16, 64*48)}.bytes(),
		"a.png": pngFile(grey8(9, 7)), "a.jpg": jpegFile(grey8(16, 9)),
	} {
		for _, fails := range []int64{0, int64(len(data)) / 2} {
			_, err := DecodeFrom(name, &elsewhere{Bytes: data, fails: fails, err: gone}, Options{})
			if err == nil || err.Error() != name+": it is no longer there. Drop it again." {
				t.Errorf("%s fails at byte %d: %v", name, fails, err)
			}
			_, err = DecodeFrom(name, &elsewhere{Bytes: data, fails: fails, err: errors.New("no disk")}, Options{})
			if err == nil || !strings.Contains(err.Error(), "no disk") {
				t.Errorf("%s fails at byte %d: %v", name, fails, err)
			}
		}
	}
}

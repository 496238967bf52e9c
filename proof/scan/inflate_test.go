package scan

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"image"
	"io"
	"math/bits"
	"slices"
	"testing"
)

// strictly is an Inflater as a browser's, by the standard library: it fails, and says no more, where
// a stream is damaged or cut short, and where anything comes after it.
type strictly struct {
	zlib   io.Reader
	packed *bytes.Reader
	after  int   // how many bytes it gives before it fails anyhow
	open   *int  // streams that are
	failed *bool // it did
}

var errStrict = errors.New("no more")

func (r *strictly) Read(p []byte) (int, error) {
	if r.zlib == nil || r.after <= 0 {
		*r.failed = true
		return 0, errStrict
	}
	n, err := r.zlib.Read(p[:min(len(p), r.after)])
	r.after -= n
	if err != nil && (err != io.EOF || r.packed.Len() > 0) {
		*r.failed, err = true, errStrict
	}
	return n, err
}

func (r *strictly) Close() error { *r.open--; return nil }

// Whatever a file has wrong, with an Inflater it reads as without one, and no stream is left open.
func TestInflater(t *testing.T) {
	f := tiffFile{w: 300, h: 250, bits: 16, samples: 1, pixels: noise(75000, 65536), rows: 120, compression: compressionDeflate}
	whole := f.bytes()
	changed := func(change func(f *tiffFile)) []byte {
		g := f
		change(&g)
		return g.bytes()
	}
	flipped := func(at int) []byte {
		data := bytes.Clone(whole)
		data[at] ^= 0x40
		return data
	}
	one := f // in one strip, which begins at byte 8
	one.rows = 0
	raw := make([]byte, 0, 2*len(f.pixels))
	for _, v := range f.pixels {
		raw = binary.LittleEndian.AppendUint16(raw, v)
	}
	length := len(packed(raw, compressionDeflate))
	badSum := one.bytes()
	badSum[8+length-1] ^= 1
	longer := one
	longer.tags = map[int]any{tagStripCounts: length + 5}
	turned := one
	turned.tags = map[int]any{tagFillOrder: orderReversed}
	about := turned.bytes()
	for i, v := range about[8 : 8+length] {
		about[8+i] = bits.Reverse8(v)
	}
	picture := image.NewGray16(image.Rect(0, 0, f.w, f.h))
	for i, v := range f.pixels {
		picture.Pix[2*i], picture.Pix[2*i+1] = byte(v>>8), byte(v)
	}
	files := map[string][]byte{
		"whole":              whole,
		"differences":        changed(func(f *tiffFile) { f.tags = map[int]any{tagPredictor: predictorWhole} }),
		"a few bytes short":  changed(func(f *tiffFile) { f.pixels = f.pixels[:len(f.pixels)-3] }),
		"a strip is missing": changed(func(f *tiffFile) { f.pixels = f.pixels[:40_000] }),
		"damaged at once":    flipped(8),
		"damaged further on": flipped(40_000),
		"another checksum":   badSum,
		"goes on":            longer.bytes(),
		"bits turned about":  about,
		"PNG":                pngFile(picture),
		"PNG, cut short":     pngFile(picture)[:90_000],
	}
	sound := []string{"whole", "differences", "a few bytes short", "a strip is missing", "bits turned about", "PNG"} // streams
	for name, data := range files {
		want, wrong := Decode(name, data, Options{})
		for _, after := range []int{1 << 30, 50_001, 0} {
			streams, open, failed := 0, 0, false
			got, err := Decode(name, data, Options{Inflate: func(in io.Reader) io.ReadCloser {
				all, _ := io.ReadAll(in)
				packed := bytes.NewReader(all)
				streams, open = streams+1, open+1
				z, err := zlib.NewReader(packed)
				if err != nil {
					z = nil
				}
				return &strictly{z, packed, after, &open, &failed}
			}})
			switch {
			case streams == 0 || open != 0:
				t.Errorf("%s, after %d bytes: %d streams were begun and %d left open", name, after, streams, open)
			case failed != (after < 1<<30 || !slices.Contains(sound, name)):
				t.Errorf("%s, after %d bytes: the Inflater's failure is %v", name, after, failed)
			case wrong != nil || err != nil:
				if wrong == nil || err == nil || err.Error() != wrong.Error() {
					t.Errorf("%s, after %d bytes: %v, want %v", name, after, err, wrong)
				}
			case !slices.Equal(got.Planes[0].Pix, want.Planes[0].Pix) || !slices.Equal(got.Remarks, want.Remarks):
				t.Errorf("%s, after %d bytes: it reads otherwise (%q, want %q)", name, after, got.Remarks, want.Remarks)
			}
		}
	}
}

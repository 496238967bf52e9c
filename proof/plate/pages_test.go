package plate

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"golang.org/x/image/tiff"

	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/plane"
	"threeply/proof/scan"
)

func tiffOf(t *testing.T, p *plane.Plane) []byte {
	t.Helper()
	img := image.NewGray16(image.Rect(0, 0, p.W, p.H))
	for i, code := range p.Pix {
		img.SetGray16(i%p.W, i/p.W, color.Gray16{Y: uint16(math.Round(65535 * math.Pow(10, -density.Of(code))))})
	}
	var b bytes.Buffer
	if err := tiff.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// paged puts TIFFs of one strip each, as golang.org/x/image/tiff writes them, into one file:
// what is an offset in them moves along (TIFF 6.0, pages 13 to 16).
func paged(files ...[]byte) []byte {
	le := binary.LittleEndian
	var out []byte
	link := 4 // where the offset of the next directory stands
	for _, file := range files {
		base := uint32(len(out))
		out = append(out, file...)
		at := int(base + le.Uint32(file[4:]))
		n := int(le.Uint16(out[at:]))
		for e := at + 2; e < at+2+12*n; e += 12 {
			size := map[uint16]uint32{1: 1, 2: 1, 3: 2, 4: 4, 5: 8}[le.Uint16(out[e+2:])] * le.Uint32(out[e+4:])
			if size > 4 || le.Uint16(out[e:]) == 273 {
				le.PutUint32(out[e+8:], le.Uint32(out[e+8:])+base)
			}
		}
		le.PutUint32(out[link:], uint32(at))
		link = at + 2 + 12*n
		if len(out)%2 == 1 {
			out = append(out, 0)
		}
	}
	return out
}

// A TIFF of three pages of one size is a set; which is which is to be asked, unless the
// order is given. A thumbnail beside a scan is no page.
func TestOpenThreePages(t *testing.T) {
	file := paged(tiffOf(t, negativeOf(1)), tiffOf(t, negativeOf(2)), tiffOf(t, negativeOf(3)))
	for _, c := range []struct {
		opt     Options
		first   filter.Filter
		unnamed bool
	}{{Options{}, filter.Red, true}, {Options{Layout: Pages, Order: "bgr"}, filter.Blue, false}} {
		set, err := Open([]File{{Name: "boat.tif", Data: scan.Bytes(file)}}, c.opt, nil)
		if err != nil {
			t.Fatal(err)
		}
		if set.Layout != Pages || set.Unnamed != c.unnamed || set.Assign[c.first] != 0 {
			t.Errorf("%+v: %s, unnamed %v, %v", c.opt, set.Layout, set.Unnamed, set.Assign)
		}
		for i, s := range set.Sources {
			if s.Part != i || s.Pictures != 1 || s.SHA256 != set.Sources[0].SHA256 || s.Polarity != Negative {
				t.Errorf("source %d: %+v", i, s)
			}
			want := negativeOf(uint64(i) + 1)
			for k, code := range set.Density[i].Pix {
				if d := int(code) - int(want.Pix[k]); d > 400 || d < -400 { // 16 bits of light at density 1.9
					t.Fatalf("page %d: pixel %d has the code %d, want %d", i, k, code, want.Pix[k])
				}
			}
		}
	}
	small := plane.New(40, 30)
	if _, err := Open([]File{{Name: "boat.tif", Data: scan.Bytes(paged(tiffOf(t, negativeOf(1)), tiffOf(t, small), tiffOf(t, small)))}}, Options{}, nil); err == nil {
		t.Error("a scan with two thumbnails is a set")
	}
	if _, err := Open([]File{{Name: "boat.tif", Data: scan.Bytes(tiffOf(t, negativeOf(1)))}}, Options{Layout: Pages}, nil); err == nil {
		t.Error("one page is three")
	}
}

// The same from a file that ImageMagick, a general-purpose library, has put together.
func TestOpenPagesOfAnother(t *testing.T) {
	convert, err := exec.LookPath("convert")
	if err != nil {
		t.Skip("SKIPPED: ImageMagick's convert is missing, so no TIFF of several pages by another program is read; install imagemagick")
	}
	dir := t.TempDir()
	var args []string
	for i, name := range []string{"a.tif", "b.tif", "c.tif"} {
		args = append(args, filepath.Join(dir, name))
		if err := os.WriteFile(args[i], tiffOf(t, negativeOf(uint64(i)+1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	all := filepath.Join(dir, "all.tif")
	if out, err := exec.Command(convert, append(args, "-compress", "lzw", all)...).CombinedOutput(); err != nil {
		t.Skipf("SKIPPED: convert cannot put pages together here (%v): %s", err, out)
	}
	data, err := os.ReadFile(all)
	if err != nil {
		t.Fatal(err)
	}
	set, err := Open([]File{{Name: "all.tif", Data: scan.Bytes(data)}}, Options{}, nil)
	if err != nil || set.Layout != Pages || set.Density[2].W != 340 {
		t.Fatalf("%+v, %v", set, err)
	}
	if d := density.Of(set.Density[2].At(170, 140)) - density.Of(negativeOf(3).At(170, 140)); math.Abs(d) > 0.02 {
		t.Errorf("its third page is %.3f off in density", d)
	}
}

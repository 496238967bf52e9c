package sheet

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"

	"golang.org/x/image/tiff"
)

// noise is a picture whose every sample is known: seeded, of all codes.
func noise(w, h, samples int) ([]uint16, TIFF) {
	rnd := rand.New(rand.NewPCG(uint64(w), uint64(h)))
	pix := make([]uint16, w*h*samples)
	for i := range pix {
		pix[i] = uint16(rnd.Uint32())
	}
	return pix, TIFF{W: w, H: h, Samples: samples, Row: func(y int, row []uint16) { copy(row, pix[y*w*samples:]) }}
}

// The files are read back by golang.org/x/image/tiff, which knows nothing of
// the writer. The sizes are those of one strip, of a last strip that is short,
// and of rows longer than a strip.
func TestTIFFReadsBack(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {7, 5}, {400, 700}, {140000, 3}} {
		for k := range 3 {
			samples := []int{1, 3}[k%2]
			w, h := size[0], size[1]
			pix, picture := noise(w, h, samples)
			picture.Plain = k > 1
			picture.PPI, picture.Description, picture.Profile = 1200, "a made-up plate", []byte("not a profile, an odd number of bytes")
			var b bytes.Buffer
			if err := picture.Write(&b); err != nil {
				t.Fatal(err)
			}
			img, err := tiff.Decode(bytes.NewReader(b.Bytes()))
			if err != nil {
				t.Fatalf("%d × %d × %d: %v", w, h, samples, err)
			}
			if img.Bounds() != image.Rect(0, 0, w, h) {
				t.Fatalf("%d × %d comes back as %v", w, h, img.Bounds())
			}
			for i := range w * h {
				want := color.RGBA64{pix[i*samples], pix[i*samples+samples/2], pix[i*samples+samples-1], 0xffff}
				if got := color.RGBA64Model.Convert(img.At(i%w, i/w)); got != want {
					t.Fatalf("%d × %d × %d: pixel %d is %v, want %v", w, h, samples, i, got, want)
				}
			}
		}
	}
}

// directory reads the fields of a little-endian file of one directory.
func directory(t *testing.T, raw []byte) map[uint16][]byte {
	t.Helper()
	le := binary.LittleEndian
	size := map[uint16]uint32{asASCII: 1, asShort: 2, asLong: 4, asRational: 8, asUndefined: 1}
	out, last := map[uint16][]byte{}, uint16(0)
	for i := range int(le.Uint16(raw[8:])) {
		e := raw[10+12*i:]
		tag, n := le.Uint16(e), size[le.Uint16(e[2:])]*le.Uint32(e[4:])
		if tag <= last {
			t.Errorf("tag %d follows %d", tag, last)
		}
		last = tag
		out[tag] = e[8 : 8+min(n, 4)]
		if n > 4 {
			at := le.Uint32(e[8:])
			if at%2 == 1 {
				t.Errorf("the value of tag %d begins at the odd byte %d", tag, at)
			}
			out[tag] = raw[at : at+n]
		}
	}
	return out
}

// The directory is in ascending order, its values begin at even bytes, and the
// resolution is a fraction of pixels an inch (TIFF 6.0, sections 2 and 8).
func TestTIFFSaysWhatItIs(t *testing.T) {
	for _, c := range []struct {
		ppi, want float64
		unit      byte
	}{{1200, 1200, 2}, {2540.005, 2540.005, 2}, {0, 1, 1}} {
		_, picture := noise(30, 20, 3)
		picture.PPI, picture.Profile, picture.Description = c.ppi, []byte("profile"), "words"
		var b bytes.Buffer
		if err := picture.Write(&b); err != nil {
			t.Fatal(err)
		}
		d := directory(t, b.Bytes())
		for _, tag := range []uint16{tagXResolution, tagYResolution} {
			n, of := binary.LittleEndian.Uint32(d[tag]), binary.LittleEndian.Uint32(d[tag][4:])
			if got := float64(n) / float64(of); got != c.want {
				t.Errorf("tag %d of %g pixels an inch is %d/%d", tag, c.ppi, n, of)
			}
		}
		if d[tagUnit][0] != c.unit || string(d[tagProfile]) != "profile" || string(d[tagDescription]) != "words\x00" {
			t.Errorf("unit %v, profile %q, description %q", d[tagUnit], d[tagProfile], d[tagDescription])
		}
	}
}

// A picture of two levels comes back as the halves of its codes.
func TestTIFFOfTwoLevelsReadsBack(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {9, 4}, {801, 3000}} {
		w, h := size[0], size[1]
		pix, picture := noise(w, h, 1)
		picture.TwoLevel, picture.PPI = true, 2400
		var b bytes.Buffer
		if err := picture.Write(&b); err != nil {
			t.Fatal(err)
		}
		img, err := tiff.Decode(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatalf("%d × %d: %v", w, h, err)
		}
		for i, v := range pix {
			if got := color.Gray16Model.Convert(img.At(i%w, i/w)).(color.Gray16).Y; got != map[bool]uint16{true: 65535}[v >= 1<<15] {
				t.Fatalf("%d × %d: pixel %d of %d is %d", w, h, i, v, got)
			}
		}
	}
}

// tiffinfo, of the general-purpose library libtiff, finds nothing to warn of, and reads
// all of the strips (Debian's libtiff-tools).
func TestTIFFAgainstLibtiff(t *testing.T) {
	if _, err := exec.LookPath("tiffinfo"); err != nil {
		t.Skip("SKIPPED: tiffinfo is missing, so the files go unchecked by libtiff; install libtiff-tools")
	}
	for name, change := range map[string]func(*TIFF){"packed": func(*TIFF) {}, "plain": func(p *TIFF) { p.Plain = true }, "two levels": func(p *TIFF) { p.TwoLevel = true }} {
		_, picture := noise(333, 1500, 1)
		picture.PPI, picture.Description = 360, "a made-up plate"
		change(&picture)
		file := filepath.Join(t.TempDir(), "a.tif")
		var b bytes.Buffer
		if err := picture.Write(&b); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		said, err := exec.Command("tiffinfo", "-D", file).CombinedOutput()
		if text := string(said); err != nil || strings.Contains(text, "Warning") || strings.Contains(text, "Error") ||
			!strings.Contains(text, "Image Width: 333 Image Length: 1500") || !strings.Contains(text, "Resolution: 360, 360 pixels/inch") || !strings.Contains(text, "min-is-black") {
			t.Errorf("%s: %v, %s", name, err, said)
		}
	}
}

func TestTIFFTellsProgress(t *testing.T) {
	_, picture := noise(1000, 900, 1)
	testProgress(t, picture)
	_, picture = noise(2000, 4000, 1)
	picture.Plain = true
	testProgress(t, picture)
}

func testProgress(t *testing.T, picture TIFF) {
	t.Helper()
	last, steps := 0.0, 0
	picture.Progress = func(share float64) {
		if share <= last || share > 1 {
			t.Errorf("%g follows %g", share, last)
		}
		last = share
		steps++
	}
	if err := picture.Write(&bytes.Buffer{}); err != nil {
		t.Fatal(err)
	}
	if last != 1 || steps < 2 {
		t.Errorf("ends at %g after %d steps", last, steps)
	}
}

// A negative of 40 × 50 cm at 720 pixels an inch, 160 megapixels, is written as it is drawn:
// all that is allocated on the way, and so what ever lies in memory of it, is less than 64 MB,
// and so are the rows that are drawn and not yet written.
func TestPlainHoldsFewRows(t *testing.T) {
	picture := TIFF{W: 11339, H: 14173, Samples: 1, Plain: true}
	var drawn atomic.Int64
	picture.Row = func(int, []uint16) { drawn.Add(1) }
	const most = 64 << 20
	held, written := int64(0), int64(0)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	err := picture.Write(writer(func(b []byte) (int, error) {
		held = max(held, drawn.Load()*int64(2*picture.W)-written)
		written += int64(len(b))
		return len(b), nil
	}))
	runtime.ReadMemStats(&after)
	if err != nil || drawn.Load() != int64(picture.H) || written < 2*int64(picture.W*picture.H) {
		t.Fatalf("%d rows, %d bytes: %v", drawn.Load(), written, err)
	}
	all := after.TotalAlloc - before.TotalAlloc
	t.Logf("%.1f MB of rows held, %.1f MB allocated, of %.0f MB", float64(held)/(1<<20), float64(all)/(1<<20), float64(written)/(1<<20))
	if held > most || all > most {
		t.Errorf("%d bytes of rows are held, %d allocated", held, all)
	}
}

type writer func(b []byte) (int, error)

func (w writer) Write(b []byte) (int, error) { return w(b) }

func TestTIFFRefusesWhatItCannotHold(t *testing.T) {
	for _, p := range []TIFF{{W: 0, H: 5, Samples: 1}, {W: 5, H: 0, Samples: 3}, {W: 5, H: 5, Samples: 2}} {
		if err := p.Write(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "no TIFF of") {
			t.Errorf("%d × %d × %d: %v", p.W, p.H, p.Samples, err)
		}
	}
}

func BenchmarkTIFF(b *testing.B) {
	_, picture := noise(3000, 2000, 1)
	for b.Loop() {
		if err := picture.Write(&bytes.Buffer{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(6/b.Elapsed().Seconds()*float64(b.N), "MP/s")
}

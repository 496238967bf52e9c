package sheet

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/adler32"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
)

// checks is a picture whose every pixel is known.
func checks(w, h int) PNG {
	return PNG{W: w, H: h, Row: func(y int, rgba []byte) {
		for x := range w {
			c := checked(y*w + x)
			rgba[4*x], rgba[4*x+1], rgba[4*x+2] = c.R, c.G, c.B
		}
	}}
}

func checked(i int) color.NRGBA { return color.NRGBA{byte(7 * i), byte(i / 3), byte(i * i), 255} }

// The files are read back by image/png, which knows nothing of the writer, in sizes of one
// strip, of a last strip that is short, and of rows longer than a strip.
func TestPNGReadsBack(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {7, 5}, {500, 900}, {90000, 3}} {
		w, h := size[0], size[1]
		var b bytes.Buffer
		if err := checks(w, h).Write(&b); err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(&b)
		if err != nil {
			t.Fatalf("%d × %d: %v", w, h, err)
		}
		if img.Bounds() != image.Rect(0, 0, w, h) {
			t.Fatalf("%d × %d comes back as %v", w, h, img.Bounds())
		}
		for i := range w * h {
			if got, want := color.NRGBAModel.Convert(img.At(i%w, i/w)), checked(i); got != want {
				t.Fatalf("%d × %d: pixel %d is %v, want %v", w, h, i, got, want)
			}
		}
	}
}

// The check sum of two runs of bytes is that of hash/adler32 over both.
func TestJoinAdler(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for range 50 {
		both := make([]byte, rnd.IntN(200_000))
		for i := range both {
			both[i] = byte(rnd.Uint32()) | 0xf0
		}
		first, second := both[:len(both)/3], both[len(both)/3:]
		if got, want := joinAdler(adler32.Checksum(first), adler32.Checksum(second), len(second)), adler32.Checksum(both); got != want {
			t.Fatalf("%d bytes: %08x, want %08x", len(both), got, want)
		}
	}
}

// chunksOf takes a file apart as the standard says (Portable Network Graphics,
// third edition, W3C 2025, section 5): length, kind, data, CRC of kind and data.
func chunksOf(t *testing.T, file []byte) (kinds []string, data map[string][]byte) {
	t.Helper()
	if string(file[:8]) != "\x89PNG\r\n\x1a\n" {
		t.Fatalf("the signature is %q", file[:8])
	}
	data = map[string][]byte{}
	for at := 8; at < len(file); {
		n := int(binary.BigEndian.Uint32(file[at:]))
		body := file[at+4 : at+8+n]
		if got := binary.BigEndian.Uint32(file[at+8+n:]); got != crc32.ChecksumIEEE(body) {
			t.Errorf("the CRC of %s is %08x", body[:4], got)
		}
		kinds = append(kinds, string(body[:4]))
		data[string(body[:4])] = body[4:]
		at += 12 + n
	}
	return kinds, data
}

func TestPNGSaysWhatItIs(t *testing.T) {
	picture := checks(31, 17)
	profile := bytes.Repeat([]byte("no real profile "), 300)
	var b bytes.Buffer
	picture.PPI, picture.Profile, picture.ProfileName, picture.Description = 254, profile, "A space", "words, “quoted” – ΔE00"
	if err := picture.Write(&b); err != nil {
		t.Fatal(err)
	}
	kinds, data := chunksOf(t, b.Bytes())
	if got := strings.Join(kinds[:4], " "); got != "IHDR iCCP pHYs iTXt" || kinds[len(kinds)-1] != "IEND" {
		t.Errorf("chunks %q", kinds)
	}
	name, packed, _ := bytes.Cut(data["iCCP"], []byte{0})
	z, err := zlib.NewReader(bytes.NewReader(packed[1:]))
	if err != nil || packed[0] != 0 || string(name) != "A space" {
		t.Fatalf("iCCP of %q, method %d: %v", name, packed[0], err)
	}
	if got, err := io.ReadAll(z); err != nil || !bytes.Equal(got, profile) {
		t.Errorf("the profile comes back changed: %v", err)
	}
	// 254 pixels an inch are 10,000 a metre.
	if got := data["pHYs"]; binary.BigEndian.Uint32(got) != 10000 || binary.BigEndian.Uint32(got[4:]) != 10000 || got[8] != 1 {
		t.Errorf("pHYs %v", got)
	}
	if got := string(data["iTXt"]); got != "Description\x00\x00\x00en\x00\x00words, “quoted” – ΔE00" {
		t.Errorf("iTXt %q", got)
	}
	if _, err := png.Decode(&b); err != nil {
		t.Error(err)
	}
}

type full struct{ left int }

func (f *full) Write(b []byte) (int, error) {
	if f.left -= len(b); f.left < 0 {
		return 0, errors.New("the disk is full")
	}
	return len(b), nil
}

func TestPNGErrors(t *testing.T) {
	for _, left := range []int{0, 20, 33, 40, 100} {
		p := checks(9, 9)
		p.Profile, p.ProfileName = []byte("p"), "n"
		if err := p.Write(&full{left}); err == nil {
			t.Errorf("a disk of %d bytes takes it all", left)
		}
	}
	for _, name := range []string{"", strings.Repeat("n", 80)} {
		p := checks(2, 2)
		p.Profile, p.ProfileName = []byte("p"), name
		if err := p.Write(io.Discard); err == nil {
			t.Errorf("a profile named %q", name)
		}
	}
	if err := (PNG{}).Write(io.Discard); err == nil {
		t.Error("a picture without pixels is written")
	}
}

func BenchmarkPNG(b *testing.B) {
	for b.Loop() {
		if err := checks(3000, 2000).Write(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(6/b.Elapsed().Seconds()*float64(b.N), "MP/s")
}

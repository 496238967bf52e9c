package scan

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
)

// Examples of the Secure Hash Standard (NIST, FIPS 180-4, examples with intermediate
// values: SHA256.pdf), and of a million letters a (FIPS 180-2, B.3).
func TestHashedAsPublished(t *testing.T) {
	for text, want := range map[string]string{
		"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
		"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
		strings.Repeat("a", 1e6):                                   "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
	} {
		if got, err := NewHashed(Bytes(text)).Sum(nil); err != nil || got != want {
			t.Errorf("%.10s…: %s, want %s (%v)", text, got, want, err)
		}
	}
}

// counted counts the bytes that are read of a file.
type counted struct {
	Bytes
	read int
}

func (c *counted) ReadAt(p []byte, at int64) (int, error) {
	n, err := c.Bytes.ReadAt(p, at)
	c.read += n
	return n, err
}

// In whatever order the parts of a file are read, its hash is that of the whole.
func TestHashedInAnyOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	whole := make([]byte, 3<<20)
	for i := range whole {
		whole[i] = byte(random.Uint32())
	}
	sum := sha256.Sum256(whole)
	want := hex.EncodeToString(sum[:])
	for range 20 {
		h := NewHashed(Bytes(whole))
		for range random.IntN(30) {
			p := make([]byte, random.IntN(1<<19))
			at := random.Int64N(int64(len(whole)))
			n, err := h.ReadAt(p, at)
			if n < len(p) && err != io.EOF || !bytes.Equal(p[:n], whole[at:at+int64(n)]) {
				t.Fatalf("%d bytes at %d: %v", n, at, err)
			}
		}
		if got, err := h.Sum(nil); err != nil || got != want {
			t.Errorf("%s, want %s (%v)", got, want, err)
		}
	}
}

// Of the usual files no byte is read twice over for the hash, and a few at most are
// read for it alone.
func TestHashedWhileDecoding(t *testing.T) {
	const w, h = 400, 300
	pixels := noise(w*h, 3000)
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i, v := range pixels {
		img.Pix[i] = byte(v)
	}
	var jpegFile, pngFile bytes.Buffer
	if jpeg.Encode(&jpegFile, img, nil) != nil || png.Encode(&pngFile, img) != nil {
		t.Fatal("the pictures cannot be written")
	}
	for name, file := range map[string][]byte{
		"a.tif": tiffFile{w: w, h: h, bits: 16, samples: 1, pixels: pixels, compression: compressionNone, rows: 16}.bytes(),
		"b.tif": tiffFile{w: w, h: h, bits: 16, samples: 1, pixels: pixels, compression: compressionDeflate, rows: 16}.bytes(),
		"c.jpg": jpegFile.Bytes(), "d.png": pngFile.Bytes(),
	} {
		plain, hashing := &counted{Bytes: file}, &counted{Bytes: file}
		if _, err := DecodeFrom(name, plain, Options{}); err != nil {
			t.Fatal(err)
		}
		data := NewHashed(hashing)
		if _, err := DecodeFrom(name, data, Options{}); err != nil {
			t.Fatal(err)
		}
		got, err := data.Sum(nil)
		if sum := sha256.Sum256(file); err != nil || got != hex.EncodeToString(sum[:]) {
			t.Errorf("%s: %s (%v)", name, got, err)
		}
		t.Logf("%s: of %d bytes %d were read to decode it, %d with its hash", name, len(file), plain.read, hashing.read)
		if more := hashing.read - plain.read; more > len(file)/20+1024 {
			t.Errorf("%s: %d of %d bytes are read for the hash alone", name, more, len(file))
		}
	}
}

// shortData ends before it should.
type shortData struct{ Bytes }

func (s shortData) Size() int64 { return s.Bytes.Size() + 10 }

func TestHashedOfAFileThatEnds(t *testing.T) {
	_, err := NewHashed(shortData{Bytes("abc")}).Sum(nil)
	if own, ok := err.(*Error); !ok || own.Reason == "" || own.Remedy == "" {
		t.Errorf("%v", err)
	}
}

// BenchmarkHashed reads a file of 64 MB in pieces, as a decoder does, and hashes it.
func BenchmarkHashed(b *testing.B) {
	data := Bytes(make([]byte, 64<<20))
	p := make([]byte, 256<<10)
	b.SetBytes(data.Size())
	for b.Loop() {
		h := NewHashed(data)
		for at := int64(0); at < data.Size(); at += int64(len(p)) {
			if _, err := h.ReadAt(p, at); err != nil && err != io.EOF {
				b.Fatal(err)
			}
		}
		if _, err := h.Sum(nil); err != nil {
			b.Fatal(err)
		}
	}
}

package sheet

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"strings"
	"testing"
)

func checks(w, h int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for i := range w * h {
		img.SetNRGBA(i%w, i/w, color.NRGBA{byte(7 * i), byte(i / 3), byte(i * i), 255})
	}
	return img
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
	img := checks(31, 17)
	profile := bytes.Repeat([]byte("no real profile "), 300)
	var b bytes.Buffer
	if err := (PNG{PPI: 254, Profile: profile, ProfileName: "A space", Description: "words, “quoted” – ΔE00"}).Write(&b, img); err != nil {
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
	back, err := png.Decode(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 31 * 17 {
		if got, want := color.NRGBAModel.Convert(back.At(i%31, i/31)), img.At(i%31, i/31); got != want {
			t.Fatalf("pixel %d is %v, want %v", i, got, want)
		}
	}
}

func TestPNGWithoutMoreIsBare(t *testing.T) {
	var ours, theirs bytes.Buffer
	if err := (PNG{}).Write(&ours, checks(5, 5)); err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(&theirs, checks(5, 5)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(ours.Bytes(), theirs.Bytes()) {
		t.Error("a picture that says nothing of itself is changed")
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
		if err := (PNG{Profile: []byte("p"), ProfileName: "n"}).Write(&full{left}, checks(9, 9)); err == nil {
			t.Errorf("a disk of %d bytes takes it all", left)
		}
	}
	for _, name := range []string{"", strings.Repeat("n", 80)} {
		if err := (PNG{Profile: []byte("p"), ProfileName: name}).Write(io.Discard, checks(2, 2)); err == nil {
			t.Errorf("a profile named %q", name)
		}
	}
	if err := (PNG{}).Write(io.Discard, image.NewNRGBA(image.Rectangle{})); err == nil {
		t.Error("a picture without pixels is written")
	}
}

package main

import (
	"bytes"
	"encoding/binary"
	"image"
	"testing"

	"golang.org/x/image/tiff"
)

// The file is read back by golang.org/x/image/tiff, which knows nothing of the
// writer.
func TestTIFFReadsBack(t *testing.T) {
	for _, size := range [][2]int{{7, 5}, {33, 128}, {20, 300}} {
		w, h := size[0], size[1]
		pix := make([]uint16, w*h)
		for i := range pix {
			pix[i] = uint16(hash(uint64(i)))
		}
		var b bytes.Buffer
		if err := writeTIFF(&b, pix, w, h, 1200, "a made-up plate"); err != nil {
			t.Fatal(err)
		}
		img, err := tiff.Decode(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatalf("%d × %d: %v", w, h, err)
		}
		grey, ok := img.(*image.Gray16)
		if !ok || grey.Bounds() != image.Rect(0, 0, w, h) {
			t.Fatalf("%d × %d comes back as %T %v", w, h, img, img.Bounds())
		}
		for i, want := range pix {
			if got := grey.Gray16At(i%w, i/w).Y; got != want {
				t.Fatalf("%d × %d: pixel %d is %d, want %d", w, h, i, got, want)
			}
		}
	}
}

// The directory is in ascending order and holds the resolution in pixels an
// inch (TIFF 6.0, sections 2 and 8).
func TestTIFFSaysItsResolution(t *testing.T) {
	var b bytes.Buffer
	if err := writeTIFF(&b, make([]uint16, 12), 4, 3, 1200, "a made-up plate"); err != nil {
		t.Fatal(err)
	}
	le, raw := binary.LittleEndian, b.Bytes()
	last := uint16(0)
	found := map[uint16]uint32{}
	for i := range int(le.Uint16(raw[8:])) {
		e := raw[10+12*i:]
		tag := le.Uint16(e)
		if tag <= last {
			t.Errorf("tag %d follows %d", tag, last)
		}
		last = tag
		found[tag] = le.Uint32(e[8:])
	}
	for _, tag := range []uint16{282, 283} {
		at := found[tag]
		if n, d := le.Uint32(raw[at:]), le.Uint32(raw[at+4:]); n != 1200 || d != 1 {
			t.Errorf("tag %d is %d/%d", tag, n, d)
		}
	}
	if found[296] != 2 {
		t.Errorf("the unit is %d, want 2 for the inch", found[296])
	}
}

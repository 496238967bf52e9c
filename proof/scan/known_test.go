package scan

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"testing"
)

// Table K.1 of ITU-T T.81, the luminance table that quality 50 of the usual
// scale stands for, has the mean 57.625; from quality 100 on every step is 1.
func TestStepOfALossyCompression(t *testing.T) {
	for quality, want := range map[int]float64{50: 57.625, 100: 1} {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 24, 16)), &jpeg.Options{Quality: quality}); err != nil {
			t.Fatal(err)
		}
		s, err := Decode("a.jpg", b.Bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.Step-want) > 0.01 {
			t.Errorf("quality %d: %.3f, want %.3f", quality, s.Step, want)
		}
	}
	for _, body := range [][]byte{nil, {0}, {0x10, 1, 2}, {0xf0}} {
		if got := meanStep(body); got != 0 {
			t.Errorf("%v: %g", body, got)
		}
	}
	wide := append([]byte{0x10}, bytes.Repeat([]byte{1, 4}, 64)...) // 16-bit steps of 260
	if got := meanStep(wide); got != 260 {
		t.Errorf("16-bit table: %g", got)
	}
}

func TestKnownSaysHowTheEncodingIsKnown(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
		t.Fatal(err)
	}
	for encoding, want := range map[string]Known{"": Assumed, "linear": Chosen, "gamma 2.2": Chosen} {
		s, err := Decode("a.jpg", b.Bytes(), Options{Encoding: encoding})
		if err != nil || s.Known != want {
			t.Errorf("%q: %v (%v)", encoding, s.Known, err)
		}
	}
}

// Resolutions across and down are told apart, and change places where the scan
// is turned by a quarter.
func TestUnequalResolutions(t *testing.T) {
	for orientation, want := range map[int][2]float64{1: {1200, 600}, 6: {600, 1200}} {
		f := tiffFile{w: 2, h: 3, bits: 16, samples: 1, pixels: make([]uint16, 6), tags: map[int]any{
			tagXResolution: [2]int{1200, 1}, tagYResolution: [2]int{600, 1}, tagResolutionIn: resolutionInches, tagOrientation: orientation,
		}}
		s, err := Decode("a.tif", f.bytes(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := [2]float64{s.PPI, s.PPIDown}; got != want {
			t.Errorf("orientation %d: %v, want %v", orientation, got, want)
		}
	}
}

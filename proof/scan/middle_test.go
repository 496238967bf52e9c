package scan

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"threeply/proof/spectrum"
)

// sheetScan is a paper of one colour with a frame of black and a few specks.
func sheetScan(c color.Color) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, 41, 30))
	for y := range 30 {
		for x := range 41 {
			img.Set(x, y, c)
			if x < 8 || y < 6 || (x+y)%7 == 0 {
				img.Set(x, y, color.Black)
			}
		}
	}
	return img
}

// The colour of an sRGB scan against the whole chain of spectrum, which starts
// from the chromaticities of the primaries.
func TestMiddleOfAnSRGBScan(t *testing.T) {
	code := [3]uint8{236, 226, 201}
	s, err := Decode("paper.png", pngFile(sheetScan(color.RGBA{code[0], code[1], code[2], 255})), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var linear [3]float64
	for i, v := range code {
		linear[i] = spectrum.DecodeSRGB(float64(v) / 255)
	}
	d50 := spectrum.XYZ{96.42, 100, 82.49}
	want := spectrum.Transform(spectrum.Adapt(spectrum.DisplayWhite, d50), spectrum.Transform(spectrum.SRGB.ToXYZ(), linear))
	got := s.Middle()
	for i := range got {
		if !(math.Abs(got[i]-want[i]) < 0.02) {
			t.Errorf("XYZ %.3f, want %.3f", got, want)
			break
		}
	}
	if !strings.HasPrefix(s.Encoding, "sRGB") {
		t.Errorf("encoding %q", s.Encoding)
	}
}

// A profile's own primaries count, not those of sRGB.
func TestMiddleOfAScanWithAProfile(t *testing.T) {
	tags := map[string][]byte{
		"rTRC": curvTag(), "gTRC": curvTag(), "bTRC": curvTag(),
		"rXYZ": xyzTag(0.5, 0.25, 0), "gXYZ": xyzTag(0.25, 0.625, 0.125), "bXYZ": xyzTag(0.125, 0.125, 0.5),
	}
	img := sheetScan(color.RGBA{255, 204, 102, 255})
	s, err := Decode("paper.png", pngFile(img, iccp(profile("RGB ", "XYZ ", tags))), Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := [3]float64{100 * (0.5 + 0.25*0.8 + 0.125*0.4), 100 * (0.25 + 0.625*0.8 + 0.125*0.4), 100 * (0.125*0.8 + 0.5*0.4)}
	got := s.Middle()
	for i := range got {
		if !(math.Abs(got[i]-want[i]) < 1e-3) {
			t.Fatalf("XYZ %.4f, want %.4f", got, want)
		}
	}
}

// A grey scan is a neutral paper; one pixel is a middle too.
func TestMiddleOfAGreyScan(t *testing.T) {
	for _, side := range []int{1, 2, 5} {
		img := image.NewGray(image.Rect(0, 0, side, side))
		for i := range img.Pix {
			img.Pix[i] = 188
		}
		s, err := Decode("paper.png", pngFile(img), Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := s.Middle()
		lab := spectrum.XYZ(got).Lab(spectrum.XYZ{96.42, 100, 82.49})
		if !(math.Abs(got[1]-50.29) < 0.01 && math.Hypot(lab[1], lab[2]) < 0.01) {
			t.Errorf("side %d: XYZ %.3f, CIELAB %.3f", side, got, lab)
		}
	}
}

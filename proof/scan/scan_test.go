package scan

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// checkRefusal expects an *Error that names the file, gives the reason and
// ends with a remedy.
func checkRefusal(t *testing.T, name string, data []byte, reason string, isUnsupported bool) {
	t.Helper()
	_, err := Decode(name, data, Options{})
	var e *Error
	if !errors.As(err, &e) {
		t.Errorf("%s: error %v, want one of kind *Error", name, err)
		return
	}
	if e.File != name || !strings.Contains(e.Reason, reason) || e.Unsupported != isUnsupported {
		t.Errorf("%s: %v (unsupported %v), want a reason with %q, unsupported %v", name, e, e.Unsupported, reason, isUnsupported)
	}
	if !strings.HasSuffix(e.Remedy, ".") || strings.HasSuffix(e.Reason, ".") || strings.Count(e.Error(), "\n") > 0 {
		t.Errorf("%s: badly put: %q", name, e.Error())
	}
}

func TestOtherFilesAreNamed(t *testing.T) {
	for _, c := range []struct{ name, data, reason string }{
		{"text.tif", "These are my notes on the plates.\n", "text, not a picture"},
		{"a.gif", "GIF89a\x00", "GIF"},
		{"a.pdf", "%PDF-1.7\x00", "PDF"},
		{"a.zip", "PK\x03\x04\x00", "ZIP"},
		{"a.bin", "\x00\x01\x02\x03", "not a TIFF"},
		{"a.jp2", "\x00\x00\x00\x0cjP  \r\n\x87\n", "JPEG 2000"},
		{"a.j2k", "\xff\x4f\xff\x51\x00", "JPEG 2000"},
		{"a.jxl", "\xff\x0a\x00", "JPEG XL"},
		{"b.jxl", "\x00\x00\x00\x0cJXL \r\n\x87\n", "JPEG XL"},
		{"a.raw", "II*\x00\x10\x00\x00\x00CR\x02\x00", "raw file of a camera"},
		{"a.heic", "\x00\x00\x00\x18ftypheic", "HEIF"},
	} {
		checkRefusal(t, c.name, []byte(c.data), c.reason, true)
	}
	checkRefusal(t, "zero.tif", nil, "empty", false)
}

func TestEncodingByBitsAndByChoice(t *testing.T) {
	deep := tiffFile{w: 1, h: 1, bits: 16, samples: 1, pixels: []uint16{32768}}.bytes()
	flat := tiffFile{w: 1, h: 1, bits: 8, samples: 1, pixels: []uint16{128}}.bytes()
	for _, c := range []struct {
		data   []byte
		choice string
		words  string
		want   float64
	}{
		{deep, "", "linear (16 bits, no profile)", 32768. / 65535},
		{flat, "", "sRGB (8 bits, no profile)", 0.2158605}, // code 128, IEC 61966-2-1 by its formula
		{deep, "sRGB", "sRGB, as chosen", math.Pow((32768./65535+0.055)/1.055, 2.4)},
		{flat, "linear", "linear, as chosen", 128. / 255},
		{flat, "gamma 2.2", "gamma 2.2, as chosen", math.Pow(128./255, 2.2)},
	} {
		s, err := Decode("a.tif", c.data, Options{Encoding: c.choice})
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(s.Curves[0][s.Planes[0].Pix[0]]); math.Abs(got-c.want) > 1e-6 || s.Encoding != c.words {
			t.Errorf("%q: %g, %q; want %g, %q", c.choice, got, s.Encoding, c.want, c.words)
		}
	}
	for _, bad := range []string{"gamma", "gamma 9", "rec2020", "gamma NaN"} {
		if _, err := Decode("a.tif", flat, Options{Encoding: bad}); err == nil || !strings.Contains(err.Error(), bad) {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func TestLuminanceOfColour(t *testing.T) {
	pixels := noise(3*500, 65536)
	s, err := Decode("a.tif", tiffFile{w: 500, h: 1, bits: 16, samples: 3, pixels: pixels}.bytes(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, curve := s.Luminance()
	worst := 0.0
	for i := range 500 {
		want := (0.2126*float64(pixels[3*i]) + 0.7152*float64(pixels[3*i+1]) + 0.0722*float64(pixels[3*i+2])) / 65535
		worst = max(worst, math.Abs(float64(curve[p.Pix[i]])-want))
	}
	t.Logf("largest error %.2g", worst)
	if worst > 1./65535 {
		t.Errorf("luminance off by %g", worst)
	}
}

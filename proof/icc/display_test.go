package icc

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"threeply/proof/spectrum"
)

// Little CMS has an sRGB of its own.
func TestSRGBAgainstLittleCMS(t *testing.T) {
	file := profileFile(t, SRGB.Profile())
	rnd := rand.New(rand.NewPCG(31, 32))
	var rgb [][3]float64
	for range 300 {
		rgb = append(rgb, [3]float64{255 * rnd.Float64(), 255 * rnd.Float64(), 255 * rnd.Float64()})
	}
	ours := littleCMS(t, file, "*Lab4", "1", rgb)
	worst := 0.0
	for i, want := range littleCMS(t, "*sRGB", "*Lab4", "1", rgb) {
		worst = max(worst, spectrum.DeltaE00(ours[i], want))
	}
	t.Logf("largest ΔE00 %.4f", worst)
	if !(worst < 0.05) {
		t.Error("our sRGB is not theirs")
	}
}

// The matrix of Display P3 to XYZ as W3C's CSS Color 4 prints it.
func TestDisplayP3Matrix(t *testing.T) {
	want := [9]float64{
		0.48657094, 0.26566769, 0.19821729,
		0.22897456, 0.69173852, 0.07928691,
		0, 0.04511338, 1.04394437,
	}
	for i, v := range DisplayP3.ToXYZ() {
		if !(math.Abs(v/100-want[i]) < 2e-4) {
			t.Errorf("element %d: %.6f, want %.6f", i, v/100, want[i])
		}
	}
	d50, _ := spectrum.LightByID("D50")
	for _, v := range spectrum.Transform(DisplayP3.FromXYZ(d50.White), d50.White) {
		if !(math.Abs(v-1) < 1e-9) {
			t.Errorf("white becomes %v", v)
		}
	}
}

// Colorants must sum to the connection space's white, or white is not white.
func TestColorantsSumToWhite(t *testing.T) {
	for _, s := range []Space{SRGB, DisplayP3} {
		file := profileFile(t, s.Profile())
		got := littleCMS(t, file, "*Lab4", "1", [][3]float64{{255, 255, 255}})[0]
		if !(spectrum.Lab(got).Distance(spectrum.Lab{100, 0, 0}) < 0.05) {
			t.Errorf("%s: white is %v", s.Name, got)
		}
	}
}

// A general-purpose library must read what we write, without tools around. It
// knows no CMY, so the output profile is for Little CMS alone.
func TestLibraryReadsProfiles(t *testing.T) {
	for _, s := range []Space{SRGB, DisplayP3} {
		p, err := icc.DecodeProfile(bytes.NewReader(s.Profile()))
		if err != nil {
			t.Errorf("%s: %v", s.Name, err)
			continue
		}
		if got := p.Header.DataColorSpace.String(); !strings.HasPrefix(got, "RGB") {
			t.Errorf("%s: space %q", s.Name, got)
		}
		if d, err := p.Description(); err != nil || d != s.Name {
			t.Errorf("%s: description %q: %v", s.Name, d, err)
		}
	}
}

package icc

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"threeply/proof/spectrum"
)

// Little CMS has an sRGB of its own.
func TestSRGBAgainstLittleCMS(t *testing.T) {
	file := profileFile(t, Display(spectrum.SRGB))
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

// Colorants must sum to the connection space's white, or white is not white.
func TestColorantsSumToWhite(t *testing.T) {
	for _, s := range []spectrum.RGBSpace{spectrum.SRGB, spectrum.DisplayP3} {
		file := profileFile(t, Display(s))
		got := littleCMS(t, file, "*Lab4", "1", [][3]float64{{255, 255, 255}})[0]
		if !(spectrum.Lab(got).Distance(spectrum.Lab{100, 0, 0}) < 0.05) {
			t.Errorf("%s: white is %v", s.Name, got)
		}
	}
}

// A general-purpose library must read what we write, without tools around. It
// knows no CMY, so the output profile is for Little CMS alone.
func TestLibraryReadsProfiles(t *testing.T) {
	for _, s := range []spectrum.RGBSpace{spectrum.SRGB, spectrum.DisplayP3} {
		p, err := icc.DecodeProfile(bytes.NewReader(Display(s)))
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

package icc

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"threeply/proof/gamut"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
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

// Colours of prints that sRGB has are shown as Little CMS shows them, relative to D50.
func TestShownAgainstLittleCMS(t *testing.T) {
	light := spectrum.Lights()[0]
	g, adapt := gamut.Of(spectrum.SRGB), spectrum.Adapt(light.White, spectrum.DisplayWhite)
	rnd := rand.New(rand.NewPCG(33, 34))
	var labs, ours [][3]float64
	for _, p := range pigment.Palettes() {
		layers := stack.DefaultRecipe(p).Layers()
		for range 60 {
			lab := light.Lab(layers.Reflectance([3]float64{rnd.Float64(), rnd.Float64(), rnd.Float64()}))
			rgb := g.Show(spectrum.Transform(adapt, lab.XYZ(light.White)))
			if min(rgb[0], rgb[1], rgb[2]) < 0.01 { // beyond, or where the knee bends
				continue
			}
			for i, v := range rgb {
				rgb[i] = 255 * spectrum.EncodeSRGB(v)
			}
			labs, ours = append(labs, lab), append(ours, rgb)
		}
	}
	worst := 0.0
	for i, want := range littleCMS(t, "*Lab4", "*sRGB", "1", labs) {
		for ch := range want {
			worst = max(worst, math.Abs(want[ch]-ours[i][ch]))
		}
	}
	t.Logf("largest difference over %d colours %.2f of 255", len(labs), worst)
	if !(worst < 1) || len(labs) < 100 {
		t.Errorf("%d colours, off by up to %.2f of 255", len(labs), worst)
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

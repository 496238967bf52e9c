package export

import (
	"bytes"
	"compress/zlib"
	"errors"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/kovidgoyal/imaging/prism/meta/icc"
	"golang.org/x/image/tiff"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/plate"
	"threeply/proof/relief"
	"threeply/proof/render"
	"threeply/proof/scan"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

// The files hold what the render shows, and a reader of its own reads from them
// the space, the resolution of the print and the words.
func TestProofFiles(t *testing.T) {
	s, planes := picturetest.Patches()
	s.PrintWidth = 200
	printing, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	want := picture.Assemble(&s, printing, printing.Curves(&s), planes, affine.Identity, 0)
	ppi := 160 / 200.0 * 25.4
	for _, space := range []spectrum.RGBSpace{spectrum.SRGB, spectrum.DisplayP3} {
		p, err := NewProof(&s, planes, render.Print, space, label.Made{})
		if err != nil {
			t.Fatal(err)
		}
		var eight, sixteen bytes.Buffer
		if err := p.WritePNG(&eight); err != nil {
			t.Fatal(err)
		}
		if err := p.WriteTIFF(&sixteen); err != nil {
			t.Fatal(err)
		}
		small, err := png.Decode(bytes.NewReader(eight.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		fine, err := tiff.Decode(bytes.NewReader(sixteen.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		for _, img := range []image.Image{small, fine} {
			if img.Bounds() != image.Rect(0, 0, 160, 160) {
				t.Fatalf("%s: %v", space.Name, img.Bounds())
			}
		}
		for i := range 160 * 160 {
			x, y := i%160, i/160
			a, _, _, _ := small.At(x, y).RGBA()
			b, _, _, _ := fine.At(x, y).RGBA()
			if d := int(a) - int(b); d < -140 || d > 140 {
				t.Fatalf("%s: at %d, %d the PNG's red is %d, the TIFF's %d", space.Name, x, y, a, b)
			}
			if space.Name == "sRGB" {
				if c := want.At(render.Print, float64(x), float64(y)); uint16(65535*c[0]+0.5) != uint16(b) {
					t.Fatalf("at %d, %d red is %d, want %g", x, y, b, c[0])
				}
			}
		}
		for name, file := range map[string][]byte{"proof.png": eight.Bytes(), "proof.tif": sixteen.Bytes()} {
			set, err := plate.Open([]plate.File{{Name: name, Data: scan.Bytes(file)}}, plate.Options{Layout: plate.Channels}, nil)
			if err != nil {
				t.Fatal(err)
			}
			src := set.Sources[0]
			if src.Encoding != "ICC profile “"+space.Name+"”" || !(src.PPI > ppi-0.02 && src.PPI < ppi+0.02) {
				t.Errorf("%s in %s: read back as %s with %g pixels an inch, want %g", name, space.Name, src.Encoding, src.PPI, ppi)
			}
			if !bytes.Contains(file, []byte("Estimate from published or remembered pigment spectra")) {
				t.Errorf("%s does not say what it rests on", name)
			}
		}
	}
}

// A general-purpose library reads the profile that a PNG carries.
func TestLibraryReadsTheProfile(t *testing.T) {
	s, planes := picturetest.Patches()
	for _, space := range []spectrum.RGBSpace{spectrum.SRGB, spectrum.DisplayP3} {
		p, err := NewProof(&s, planes, render.Print, space, label.Made{})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := p.WritePNG(&b); err != nil {
			t.Fatal(err)
		}
		at := bytes.Index(b.Bytes(), []byte("iCCP"+space.Name))
		if at < 0 {
			t.Fatalf("no profile of %s", space.Name)
		}
		z, err := zlib.NewReader(bytes.NewReader(b.Bytes()[at+4+len(space.Name)+2:]))
		if err != nil {
			t.Fatal(err)
		}
		profile, err := icc.DecodeProfile(z)
		if err != nil {
			t.Fatal(err)
		}
		if d, err := profile.Description(); err != nil || d != space.Name {
			t.Errorf("the profile of %s says “%s”: %v", space.Name, d, err)
		}
	}
}

// A palette of one's own can be made again from what its proof says.
func TestAboutCarriesTheAmounts(t *testing.T) {
	s, planes := picturetest.Patches()
	own, _ := pigment.PaletteByID("earth")
	own.ID, own.Name = "mine", "Mine"
	own.Yellow.Load, own.Magenta.Haze, own.Cyan.CoatMicron = 1.25, 0, 31.5
	history := command.NewHistory(s)
	for _, c := range []command.Command{command.TakePalette{Palette: own}, command.Limit{Value: 0.6}} {
		if err := history.Do(c, ""); err != nil {
			t.Fatal(err)
		}
	}
	p, err := NewProof(&history.State, planes, render.Print, spectrum.SRGB, label.Made{})
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{"NY24, 70 %", "PY42, 30 %", "load 1.25", "haze 0", "coat 31.5 µm", "no layer thicker than 0.6 of its coat"} {
		if !strings.Contains(p.About(), part) {
			t.Errorf("no “%s” in: %s", part, p.About())
		}
	}
	if strings.Contains(p.About(), "PR83, 100") || strings.Contains(p.About(), "load 1;") {
		t.Errorf("says what goes without saying: %s", p.About())
	}
	if strings.Contains(Plain(p.About()), "?") {
		t.Errorf("a TIFF loses letters of: %s", Plain(p.About()))
	}
}

// What a proof says changes with what it is.
func TestAboutSaysWhatItIs(t *testing.T) {
	s, planes := picturetest.Patches()
	about := func(kind render.Kind) string {
		t.Helper()
		p, err := NewProof(&s, planes, kind, spectrum.SRGB, label.Made{})
		if err != nil {
			t.Fatal(err)
		}
		return p.About()
	}
	has := func(text string, parts ...string) {
		t.Helper()
		for _, part := range parts {
			if !strings.Contains(text, part) {
				t.Errorf("no “%s” in: %s", part, text)
			}
		}
	}
	has(about(render.Print), "Clear arylide", "Quinacridone magenta, PR122: absorption fitted to measured acrylic films", "Gloss", "D50", "Printed tuned", "Unmasked", "neutrals are not known", "300 mm", "Estimate from published or remembered pigment spectra")
	s.Palette, s.Finish, s.Light, s.Dim, s.Masked, s.Hidden[2] = "earth", "matt", "A", true, true, true
	words := about(render.Print)
	has(words, "Earth and viridian", "PG18", "Matt", "Tungsten", "50 lx", "Masked: ", "cyan layer is hidden")
	if strings.Contains(words, "NOT IN REGISTER") {
		t.Errorf("a registered picture: %s", words)
	}
	s.Masked, s.Way = false, relief.Way{Straight: true, Range: 1.3, AtDepth: true, Stops: [3]float64{0, 0.2, 0}}
	s.Neutral = session.Neutral{By: session.ByGreys, Greys: make([]session.Spot, 3), Unsure: 0.05}
	has(about(render.Print), "Printed straight: each plate enlarged to a density range of 1.3, one exposure a layer, right for the black; exposed off the normal by stops: magenta +0.20.",
		"rest on 3 greys that were pointed at; a plate may be 0.05 stops off against the others")
	reference := about(render.Reference)
	has(reference, "Reference", "3 greys")
	s.Neutral = session.Neutral{By: session.ByLight, Light: "white-patch", Unsure: 0.3}
	has(about(render.Reference), "assumed, not measured: white patch")
	if strings.Contains(reference, "pigment spectra") || strings.Contains(reference, "Palette") {
		t.Errorf("the reference rests on no pigments: %s", reference)
	}
	s.Registered = "none"
	has(about(render.Print), "NOT IN REGISTER")
	has(about(render.Reference), "NOT IN REGISTER")
}

func TestPlainIsSevenBits(t *testing.T) {
	if got := Plain("“Gelatine – ΔE00 −3 · é”"); got != `"Gelatine - Delta E00 -3 , ?"` {
		t.Errorf("%q", got)
	}
}

func TestSpaceOf(t *testing.T) {
	for id, want := range map[string]string{"srgb": "sRGB", "p3": "Display P3"} {
		if got, err := SpaceOf(id); err != nil || got.Name != want {
			t.Errorf("%s: %s, %v", id, got.Name, err)
		}
	}
	if _, err := SpaceOf("cmyk"); err == nil {
		t.Error("cmyk passes for a display's space")
	}
}

// A cropped proof is the whole one's part within the borders of its plates; on its margin it
// is the same, white around it, with words below, in both forms alike.
func TestProofCroppedOnItsMargin(t *testing.T) {
	s, planes := picturetest.Patches()
	for i := range s.Sources {
		s.Sources[i].Area = [4]int{20, 30, 140, 150}
	}
	made := label.Made{Tool: "Threeply"}
	whole, err := NewProof(&s, planes, render.Print, spectrum.SRGB, made)
	if err != nil {
		t.Fatal(err)
	}
	cut, err := NewProof(&s, planes, render.Print, spectrum.SRGB, made)
	if err != nil {
		t.Fatal(err)
	}
	cut.Crop(&s, planes)
	full, part := whole.Image(), cut.Image()
	x0, y0, x1, y1 := picture.Overlap(&s)
	if part.Rect.Dx() >= 160 || math.Abs(float64(part.Rect.Dx())-(x1-x0)) > 1.5 || math.Abs(float64(part.Rect.Dy())-(y1-y0)) > 1.5 {
		t.Fatalf("cropped to %v of %g … %g, %g … %g", part.Rect, x0, x1, y0, y1)
	}
	left, top := int(math.Ceil(x0)), int(math.Ceil(y0))
	for y := range part.Rect.Dy() {
		for x := range part.Rect.Dx() {
			if part.NRGBAAt(x, y) != full.NRGBAAt(x+left, y+top) {
				t.Fatalf("pixel %d, %d is %v, want %v", x, y, part.NRGBAAt(x, y), full.NRGBAAt(x+left, y+top))
			}
		}
	}
	if err := cut.Mount(); err != nil {
		t.Fatal(err)
	}
	var eight, sixteen bytes.Buffer
	if err := errors.Join(cut.WritePNG(&eight), cut.WriteTIFF(&sixteen)); err != nil {
		t.Fatal(err)
	}
	small, err := png.Decode(&eight)
	if err != nil {
		t.Fatal(err)
	}
	fine, err := tiff.Decode(&sixteen)
	if err != nil {
		t.Fatal(err)
	}
	if small.Bounds() != fine.Bounds() {
		t.Fatalf("%v and %v", small.Bounds(), fine.Bounds())
	}
	edge, ink := (small.Bounds().Dx()-part.Rect.Dx())/2, 0
	for y := range small.Bounds().Dy() {
		for x := range small.Bounds().Dx() {
			a, _, _, _ := small.At(x, y).RGBA()
			b, _, _, _ := fine.At(x, y).RGBA()
			if math.Abs(float64(a)-float64(b)) > 300 {
				t.Fatalf("pixel %d, %d is %d in one form and %d in the other", x, y, a, b)
			}
			if y > edge+part.Rect.Dy() && a < 0x8000 {
				ink++
			}
		}
	}
	if r, _, _, _ := small.At(1, 1).RGBA(); r != 0xffff || ink < 200 {
		t.Errorf("the margin is %d, with %d pixels of words below", r, ink)
	}
	if got, _, _, _ := small.At(edge+5, edge+5).RGBA(); uint8(got>>8) != part.NRGBAAt(5, 5).R {
		t.Error("the picture does not lie in its margin")
	}
}

// A print of fugitive pigments is lighter after years on show, the more so the worse it is
// taken to be, and says what is left.
func TestFadedProof(t *testing.T) {
	s, planes := picturetest.Scene(16, func(_, x, y int) float64 { return float64(x+y) / 30 })
	s.Palette = "gamboge"
	light := func(p *Proof, err error) (sum float64) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range p.Image().Pix {
			sum += float64(v)
		}
		return sum
	}
	shown := pigment.Exhibition{Lux: 200, Hours: 10, Years: 100}
	least, errLeast := NewFadedProof(&s, planes, shown, false, spectrum.SRGB, label.Made{})
	most, errMost := NewFadedProof(&s, planes, shown, true, spectrum.SRGB, label.Made{})
	made := light(NewProof(&s, planes, render.Print, spectrum.SRGB, label.Made{}))
	if a, b := light(least, errLeast), light(most, errMost); !(made < a && a < b) {
		t.Errorf("light as made %.4g, faded least %.4g, most %.4g", made, a, b)
	}
	if says := most.About(); !strings.Contains(says, "after 100 years on show at 200 lx, 10 hours a day") || !strings.Contains(says, "% left; cyan ") {
		t.Error(says)
	}
}

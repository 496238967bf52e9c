package scan

import (
	"encoding/binary"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is transparent is laid on white, in the same codes as ImageMagick lays it.
func TestOpacityAsImageMagickLaysItOnWhite(t *testing.T) {
	need(t, "tiffcp", "convert")
	const w, h = 61, 40
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	write := func(name string, bits, samples, kind int, planar bool) string {
		f := tiffFile{w: w, h: h, bits: bits, samples: samples, pixels: slopes(w, h, samples, 1<<bits, 1<<(bits-2)), tags: map[int]any{tagPlanar: 1, tagExtraSamples: kind}}
		for i := samples - 1; i < len(f.pixels); i += samples {
			most := uint16(1<<bits - 1)
			switch opacity := &f.pixels[i]; {
			case i/samples%w < 10:
				*opacity = 0
			case i/samples%w > 40:
				*opacity = most
			}
			for c := range samples - 1 { // no more than its share can be left of a colour
				if v := &f.pixels[i-1-c]; kind == extraAssociated {
					*v = uint16(uint32(*v) * uint32(f.pixels[i]) / uint32(most))
				}
			}
		}
		if planar {
			f = f.planar()
		}
		if err := os.WriteFile(path(name), f.bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		return path(name)
	}
	grey, colour := write("grey.tif", 16, 2, 2, false), write("colour.tif", 8, 4, 2, false)
	png := func(from, name string, how ...string) string {
		tool(t, "convert", append(append([]string{from}, how...), path(name))...)
		return path(name)
	}
	for _, c := range []struct {
		file     string
		channels int
		within   int // codes of 65535
	}{
		{grey, 1, 1},
		{colour, 3, 1},
		{write("planar.tif", 16, 4, 2, true), 3, 1},
		{write("multiplied.tif", 16, 2, extraAssociated, false), 1, 1},
		{write("multiplied-planar.tif", 16, 4, extraAssociated, true), 3, 1},
		{png(grey, "grey.png", "-define", "png:color-type=4", "-define", "png:bit-depth=16"), 1, 1},
		{png(colour, "colour.png", "-interlace", "plane", "-define", "png:color-type=6"), 3, 1},
		{paletted(t, path("palette.png"), w, h), 3, 1},
		{png(grey, "hidden.png", "-alpha", "off", "-depth", "8", "-transparent", "gray(64)", "-define", "png:color-type=0"), 1, 1},
		{png(colour, "hidden-colour.png", "-alpha", "off", "-posterize", "4", "-transparent", "rgb(85,85,85)", "-define", "png:color-type=2"), 3, 1},
	} {
		data, err := os.ReadFile(c.file)
		if err != nil {
			t.Fatal(err)
		}
		s, err := Decode(filepath.Base(c.file), data, Options{})
		if err != nil {
			t.Error(err)
			continue
		}
		kind := "gray:-"
		if s.Channels == 3 {
			kind = "rgb:-"
		}
		theirs := tool(t, "convert", c.file, "-background", "white", "-alpha", "remove", "-alpha", "off", "-depth", "16", "-endian", "LSB", kind)
		if s.Channels != c.channels || len(theirs) != 2*w*h*s.Channels {
			t.Errorf("%s: %d channels; the other reader gives %d bytes", s.Name, s.Channels, len(theirs))
			continue
		}
		worst := 0
		for i := range w * h * s.Channels {
			d := int(binary.LittleEndian.Uint16(theirs[2*i:])) - int(s.Planes[i%s.Channels].Pix[i/s.Channels])
			worst = max(worst, d, -d)
		}
		t.Logf("%s: largest difference %d of 65535; %q", s.Name, worst, s.Remarks)
		if worst > c.within {
			t.Errorf("%s: off by %d of 65535", s.Name, worst)
		}
		if len(s.Remarks) != 1 || !strings.HasSuffix(s.Remarks[0], "of it is transparent and was laid on white, as where no plate lies") {
			t.Errorf("%s: it says %q", s.Name, s.Remarks)
		}
	}
}

// paletted writes a PNG of numbers of colours, each with an opacity of its own.
func paletted(t *testing.T, name string, w, h int) string {
	t.Helper()
	var colours color.Palette
	for i := range 256 {
		colours = append(colours, color.NRGBA{byte(i), byte(255 - i), byte(3 * i), byte(min(2*i, 255))})
	}
	img := image.NewPaletted(image.Rect(0, 0, w, h), colours)
	for i := range img.Pix {
		img.Pix[i] = byte(i)
	}
	if err := os.WriteFile(name, pngFile(img), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// Min-is-white is turned over before it is laid on white; infrared stays as it is; a channel
// that is left out before the opacity changes nothing.
func TestOpacityBesideOtherChannels(t *testing.T) {
	for _, c := range []struct {
		name string
		file tiffFile
		want []uint16 // of the planes, infrared last
	}{
		{"white.tif", tiffFile{w: 1, h: 1, bits: 8, samples: 2, pixels: []uint16{255, 51}, tags: map[int]any{tagPhotometric: photometricWhiteIsZero, tagExtraSamples: 2}}, []uint16{204 * 257}},
		{"white-multiplied.tif", tiffFile{w: 1, h: 1, bits: 8, samples: 2, pixels: []uint16{51, 51}, tags: map[int]any{tagPhotometric: photometricWhiteIsZero, tagExtraSamples: 1}}, []uint16{204 * 257}},
		{"infrared.tif", tiffFile{w: 1, h: 1, bits: 8, samples: 5, pixels: []uint16{0, 255, 100, 7, 204}, tags: map[int]any{tagExtraSamples: []int{extraUnspecified, 2}}}, []uint16{51 * 257, 65535, 131 * 257, 7 * 257}},
		{"behind.tif", tiffFile{w: 1, h: 1, bits: 8, samples: 3, pixels: []uint16{0, 9, 204}, tags: map[int]any{tagPhotometric: 1, tagExtraSamples: []int{extraUnspecified, 2}}}.planar(), []uint16{51 * 257}},
	} {
		c.file.drop = []int{tagRowsPerStrip}
		s, err := Decode(c.name, c.file.bytes(), Options{})
		if err != nil {
			t.Error(err)
			continue
		}
		planes := s.Planes
		if s.Infrared != nil {
			planes = append(planes, s.Infrared)
		}
		for i, want := range c.want {
			if got := planes[i].Pix[0]; got != want {
				t.Errorf("%s: plane %d is %d, want %d", c.name, i, got, want)
			}
		}
	}
}

// Shares are said as people write them, however large or small.
func TestOpacityInWords(t *testing.T) {
	for want, o := range map[string]opacities{"100 %": {through: 9_999}, "99 %": {through: 9_900}, "50 %": {through: 5_000}, "0.01 %": {through: 1}} {
		if got, refusal := o.remarks(10_000); refusal != nil || len(got) != 1 || !strings.HasPrefix(got[0], want+" of it is transparent") {
			t.Errorf("%d: %q, want %q", o.through, got, want)
		}
	}
	if got, _ := (&opacities{through: 1}).remarks(300_000_000); len(got) != 1 || !strings.HasPrefix(got[0], "0.00000033 % of it") {
		t.Errorf("%q", got)
	}
}

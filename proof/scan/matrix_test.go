package scan

import (
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// tool runs a general-purpose program and returns what it prints.
func tool(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	var complaint strings.Builder
	c := exec.Command(name, args...)
	c.Stderr = &complaint
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%s %s: %v: %s", name, strings.Join(args, " "), err, complaint.String())
	}
	return out
}

func need(t *testing.T, names ...string) {
	t.Helper()
	for _, name := range names {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("SKIPPED: %s is not here (apt-get install libtiff-tools imagemagick liblcms2-utils)", name)
		}
	}
}

// slopes are the samples of a picture that rises along both sides, each channel
// otherwise, with grain.
func slopes(w, h, samples, limit, grain int) []uint16 {
	out := make([]uint16, w*h*samples)
	for i, n := range noise(len(out), grain) {
		x, y, c := i/samples%w, i/samples/w, i%samples
		share := float64((c+1)*x+(samples-c)*y) / float64((samples+1)*(w+h))
		out[i] = uint16(share*float64(limit-grain)) + n
	}
	return out
}

// Every layout that libtiff's tiffcp can give a picture opens to the very same codes.
func TestLayoutsByLibtiff(t *testing.T) {
	need(t, "tiffcp")
	const w, h = 97, 61
	dir := t.TempDir()
	opaque := func(pixels []uint16, samples, limit int) []uint16 {
		for i := samples - 1; i < len(pixels); i += samples {
			pixels[i] = uint16(limit - 1)
		}
		return pixels
	}
	layouts := []string{
		"-c none -s -r 7", "-c none -t -w 32 -l 16", "-c none -8 -B -r 5", "-c none -L -r 61", "-c none -8 -t -w 16 -l 48",
		"-c lzw -r 9", "-c lzw:2 -B -r 9", "-c lzw:2 -t -w 64 -l 32", "-c lzw -f lsb2msb", "-c zip -B", "-c zip:2 -t -w 48 -l 16", "-c zip:2 -8 -r 1", "-c packbits -r 4", "-c packbits -t -w 32 -l 32",
	}
	runs := 0
	for _, base := range []struct {
		name            string
		bits, samples   int
		extra, colours  int
		white, infrared bool
	}{
		{"grey8", 8, 1, -1, 1, false, false}, {"grey16", 16, 1, -1, 1, false, false}, {"white16", 16, 1, -1, 1, true, false},
		{"rgb8", 8, 3, -1, 3, false, false}, {"rgb16", 16, 3, -1, 3, false, false},
		{"greyalpha16", 16, 2, 2, 1, false, false}, {"rgba8", 8, 4, 1, 3, false, false}, {"rgbir16", 16, 4, 0, 3, false, true},
	} {
		limit := 1 << base.bits
		f := tiffFile{w: w, h: h, bits: base.bits, samples: base.samples, pixels: slopes(w, h, base.samples, limit, 40), tags: map[int]any{tagPlanar: 1}}
		if base.extra >= 0 {
			f.tags[tagExtraSamples] = base.extra
			if !base.infrared {
				opaque(f.pixels, base.samples, limit)
			}
		}
		if base.white {
			f.tags[tagPhotometric] = photometricWhiteIsZero
		}
		// tiffcp keeps planes of 16 bits apart but does not part them itself.
		from := map[string]string{}
		for planar, whole := range map[string]tiffFile{"contig": f, "separate": f.planar()} {
			from[planar] = filepath.Join(dir, base.name+planar+".tif")
			if err := os.WriteFile(from[planar], whole.bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		for _, layout := range layouts {
			planars := []string{"contig"}
			// It spoils 16-bit samples when it puts separate strips into tiles.
			if base.samples > 1 && !(base.bits == 16 && strings.Contains(layout, "-t")) {
				planars = append(planars, "separate")
			}
			for _, planar := range planars {
				to := filepath.Join(dir, "out.tif")
				tool(t, "tiffcp", append(append(strings.Fields(layout), "-p", planar), from[planar], to)...)
				runs++
				what := fmt.Sprintf("%s %s %s", base.name, layout, planar)
				data, _ := os.ReadFile(to)
				s, err := Decode(what, data, Options{})
				if err != nil {
					t.Error(err)
					continue
				}
				if s.W != w || s.H != h || s.Bits != base.bits || s.Channels != base.colours || (s.Infrared != nil) != base.infrared || len(s.Remarks) > 0 {
					t.Errorf("%s: %d × %d, %d bits, %d channels, remarks %q", what, s.W, s.H, s.Bits, s.Channels, s.Remarks)
					continue
				}
				planes := s.Planes
				if base.infrared {
					planes = append(planes, s.Infrared)
				}
				unit := uint16(65535 / (limit - 1))
				for c, p := range planes {
					for i, v := range p.Pix {
						want := f.pixels[i*base.samples+c] * unit
						if base.white {
							want = 65535 - want
						}
						if v != want {
							t.Fatalf("%s: channel %d, pixel %d: %d, want %d", what, c, i, v, want)
						}
					}
				}
			}
		}
	}
	t.Logf("%d files", runs)
}

// Depths and compressions against what ImageMagick reads in the same file. Integers and
// floating-point numbers agree to a code; JPEG to the rounding of its transform, its
// halved colours to what lies between two pixels of a smooth picture.
func TestDepthsAsImageMagickReads(t *testing.T) {
	need(t, "tiffcp", "convert")
	const w, h = 96, 64
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	write := func(name string, bits, samples int) {
		f := tiffFile{w: w, h: h, bits: bits, samples: samples, pixels: slopes(w, h, samples, 1<<bits, 3), tags: map[int]any{tagPlanar: 1}}
		if err := os.WriteFile(path(name), f.bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("grey16.tif", 16, 1)
	write("rgb16.tif", 16, 3)
	write("grey8.tif", 8, 1)
	write("rgb8.tif", 8, 3)
	convert := func(args ...string) func(from, to string) {
		return func(from, to string) { tool(t, "convert", append(append([]string{from}, args...), to)...) }
	}
	float := []string{"-define", "quantum:format=floating-point"}
	tiffcp := func(args string) func(from, to string) {
		return func(from, to string) { tool(t, "tiffcp", append(strings.Fields(args), from, to)...) }
	}
	floatThen := func(args string) func(from, to string) {
		return func(from, to string) {
			convert(append(float, "-depth", "32", "-compress", "lzw")...)(from, path("float.tif"))
			tiffcp(args)(path("float.tif"), to)
		}
	}
	for _, c := range []struct {
		name, from string
		make       func(from, to string)
		bits       int
		within     int // codes of 65535
	}{
		{"12 bits", "grey16.tif", convert("-depth", "12", "-compress", "none"), 12, 1},
		{"12 bits, RGB", "rgb16.tif", convert("-depth", "12", "-compress", "lzw", "-endian", "MSB"), 12, 1},
		{"10 bits", "grey16.tif", convert("-depth", "10", "-compress", "zip"), 10, 1},
		{"32 bits", "grey16.tif", convert("-depth", "32", "-compress", "none"), 32, 1},
		{"32 bits, RGB", "rgb16.tif", convert("-depth", "32", "-compress", "zip", "-endian", "MSB"), 32, 1},
		{"float 16", "grey16.tif", convert(append(float, "-depth", "16", "-compress", "lzw")...), 16, 1},
		{"float 32", "grey16.tif", convert(append(float, "-depth", "32", "-compress", "zip")...), 32, 1},
		{"float 32, RGB, high byte first", "rgb16.tif", convert(append(float, "-depth", "32", "-compress", "lzw", "-endian", "MSB")...), 32, 1},
		{"float 64", "grey16.tif", convert(append(float, "-depth", "64", "-compress", "lzw")...), 64, 1},
		{"float differences", "grey16.tif", floatThen("-c zip:3 -r 9"), 32, 1},
		{"float differences, RGB, tiles", "rgb16.tif", floatThen("-c lzw:3 -t -w 32 -l 16 -B"), 32, 1},
		{"16 bits, RGB, planar tiles", "rgb16.tif", convert("-interlace", "plane", "-define", "tiff:tile-geometry=32x48", "-compress", "zip"), 16, 0},
		{"float differences, RGB, BigTIFF", "rgb16.tif", floatThen("-c zip:3 -8"), 32, 1},
		{"32-bit differences", "grey16.tif", func(from, to string) {
			convert("-depth", "32")(from, path("long.tif"))
			tiffcp("-c zip:2 -B")(path("long.tif"), to)
		}, 32, 1},
		{"JPEG, grey", "grey8.tif", tiffcp("-c jpeg:92 -r 16"), 8, 257},
		{"JPEG, grey tiles", "grey8.tif", tiffcp("-c jpeg:92 -t -w 32 -l 32"), 8, 257},
		{"JPEG, RGB", "rgb8.tif", tiffcp("-c jpeg:r:92 -r 24"), 8, 257},
		{"JPEG, RGB planar", "rgb8.tif", tiffcp("-c jpeg:r:92 -p separate -r 24"), 8, 257},
		{"JPEG, YCbCr", "rgb8.tif", tiffcp("-c jpeg:92 -r 32"), 8, 4 * 257},
		{"JPEG, YCbCr tiles", "rgb8.tif", tiffcp("-c jpeg:92 -t -w 32 -l 32"), 8, 4 * 257},
		{"PNG 16", "rgb16.tif", func(from, to string) { tool(t, "convert", from, "-interlace", "none", "PNG48:"+to) }, 16, 0},
		{"PNG 16, interlaced", "grey16.tif", func(from, to string) {
			tool(t, "convert", from, "-interlace", "plane", "-define", "png:color-type=0", "-define", "png:bit-depth=16", "PNG:"+to)
		}, 16, 0},
		{"PNG 8, interlaced", "rgb8.tif", func(from, to string) { tool(t, "convert", from, "-interlace", "plane", "PNG24:"+to) }, 8, 0},
		{"PNG of 200 colours", "rgb8.tif", func(from, to string) { tool(t, "convert", from, "-colors", "200", "PNG8:"+to) }, 8, 0},
		{"PNG of 4 greys", "grey8.tif", func(from, to string) { tool(t, "convert", from, "-colors", "4", "-interlace", "plane", "PNG8:"+to) }, 8, 0},
		{"PNG with opacity", "rgb16.tif", func(from, to string) { tool(t, "convert", from, "-alpha", "opaque", "PNG64:"+to) }, 16, 0},
	} {
		to := path("out")
		c.make(path(c.from), to)
		data, _ := os.ReadFile(to)
		s, err := Decode(c.name, data, Options{})
		if err != nil {
			t.Error(err)
			continue
		}
		kind := "gray:-"
		if s.Channels == 3 {
			kind = "rgb:-"
		}
		theirs := tool(t, "convert", to, "-depth", "16", "-endian", "LSB", kind)
		if s.Bits != c.bits || len(theirs) != 2*w*h*s.Channels {
			t.Errorf("%s: %d bits, %d channels; the other reader gives %d bytes", c.name, s.Bits, s.Channels, len(theirs))
			continue
		}
		worst := 0
		for i := range w * h * s.Channels {
			d := int(binary.LittleEndian.Uint16(theirs[2*i:])) - int(s.Planes[i%s.Channels].Pix[i/s.Channels])
			worst = max(worst, d, -d)
		}
		t.Logf("%s: largest difference %d of 65535", c.name, worst)
		if worst > c.within {
			t.Errorf("%s: off by %d of 65535", c.name, worst)
		}
	}
}

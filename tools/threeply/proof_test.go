package main

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"threeply/proof/plate"
	"threeply/proof/scan"
)

// The name's ending chooses the form, -space the profile; what comes out says
// what it rests on, in the file and on the screen.
func TestProofForms(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	files := []string{waves(t, at("a.png"), 0), waves(t, at("b.png"), 0.1), waves(t, at("c.png"), 0.2)}
	pictures := map[string]image.Image{}
	for _, c := range []struct{ name, space, profile string }{
		{"proof.png", "srgb", "sRGB"}, {"wide.png", "p3", "Display P3"}, {"proof.tif", "srgb", "sRGB"}, {"wide.TIFF", "p3", "Display P3"},
	} {
		var said bytes.Buffer
		if err := proof(append([]string{"-space", c.space, "-palette", "earth", "-o", at(c.name)}, files...), &said, io.Discard); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(at(c.name))
		if err != nil {
			t.Fatal(err)
		}
		decode := png.Decode
		if strings.Contains(strings.ToLower(c.name), ".tif") {
			decode = tiff.Decode
		}
		if pictures[c.name], err = decode(bytes.NewReader(data)); err != nil {
			t.Fatal(err)
		}
		set, err := plate.Open([]plate.File{{Name: c.name, Data: scan.Bytes(data)}}, plate.Options{Layout: plate.Channels}, nil)
		if err != nil {
			t.Fatal(err)
		}
		// 96 pixels on 300 mm
		if src := set.Sources[0]; !strings.Contains(src.Encoding, "“"+c.profile+"”") || !(src.PPI > 8.1 && src.PPI < 8.16) {
			t.Errorf("%s: %s, %g pixels an inch", c.name, src.Encoding, src.PPI)
		}
		for _, text := range []string{said.String(), string(data)} {
			if !strings.Contains(text, "Earth and viridian") || !strings.Contains(text, "Estimate from published or remembered") {
				t.Errorf("%s: what it rests on is not said in %.200q", c.name, text)
			}
		}
	}
	differs := false
	for i := range 96 * 64 {
		a, _, _, _ := pictures["proof.png"].At(i%96, i/96).RGBA()
		b, _, _, _ := pictures["wide.png"].At(i%96, i/96).RGBA()
		differs = differs || a != b
	}
	if !differs {
		t.Error("the same codes in both spaces")
	}
	for _, c := range []struct {
		option string
		cut    bool
	}{{"-crop", true}, {"-crop=false", false}, {"-margin", false}} {
		if err := proof(append([]string{c.option, "-overwrite", "-o", at("cut.png")}, files...), io.Discard, io.Discard); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(at("cut.png"))
		if err != nil || bytes.Contains(data, []byte("Trimmed to the picture")) != c.cut {
			t.Errorf("%s: to be cut to the picture is %v (%v)", c.option, c.cut, err)
		}
	}
	for _, args := range [][]string{{"-o", at("proof.jpg")}, {"-space", "cmyk"}} {
		var out, said bytes.Buffer
		if code := run(append(append([]string{"proof"}, args...), files...), &out, &said); code != 2 || said.Len() == 0 {
			t.Errorf("%q ends with %d and says %q", args, code, said.String())
		}
	}
}

// The print after years on show says so; the options go together or are refused.
func TestProofFaded(t *testing.T) {
	to := filepath.Join(t.TempDir(), "p.png")
	for _, bad := range [][]string{{"-lux", "50"}, {"-least"}, {"-years", "5", "-reference"}, {"-years", "5", "-screen", "40"}} {
		if err := proof(append(bad, "-o", to, "red.tif"), io.Discard, io.Discard); err == nil || !strings.Contains(err.Error(), "-years") {
			t.Errorf("%v: %v", bad, err)
		}
	}
	var said bytes.Buffer
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	if err := proof([]string{"-palette", "gamboge", "-years", "100", "-lux", "200", "-o", to, waves(t, at("a.png"), 0), waves(t, at("b.png"), 0.1), waves(t, at("c.png"), 0.2)}, &said, io.Discard); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(said.String(), "after 100 years on show at 200 lx, 8 hours a day") {
		t.Error(said.String())
	}
}

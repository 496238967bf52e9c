package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/intake"
	"threeply/proof/plate"
	"threeply/proof/scan"
	"threeply/proof/session"
)

// waves writes a small plate whose pattern depends on phase.
func waves(t *testing.T, name string, phase float64) string {
	t.Helper()
	img := image.NewGray16(image.Rect(0, 0, 96, 64))
	for y := range 64 {
		for x := range 96 {
			v := 0.3 + 0.25*math.Sin(float64(x)/9+phase)*math.Cos(float64(y)/7-phase)
			img.SetGray16(x, y, color.Gray16{Y: uint16(65535 * v)})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// A session that the page saved for plates dropped as blue, green, red gives
// the same proof in whatever order its files are named, and refuses others.
func TestProofOfASession(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	red, green, blue := waves(t, at("c.png"), 0), waves(t, at("b.png"), 1), waves(t, at("a.png"), 2)
	var files []plate.File
	for _, name := range []string{blue, green, red} {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, plate.File{Name: filepath.Base(name), Data: scan.Bytes(data)})
	}
	set, err := plate.Open(files, plate.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := intake.Begin(set)
	s.Assign, s.Palette, s.Registered, s.FoundKey = [3]int{2, 1, 0}, "gamboge", "auto", 1
	s.Offsets[0].DX = 20000
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	saved := at("saved.json")
	if err := os.WriteFile(saved, text, 0o644); err != nil {
		t.Fatal(err)
	}
	render := func(out string, names ...string) ([]byte, error) {
		if err := proof(append([]string{"-session", saved, "-o", at(out)}, names...), io.Discard); err != nil {
			return nil, err
		}
		return os.ReadFile(at(out))
	}
	first, err := render("1.png", red, green, blue)
	if err != nil {
		t.Fatal(err)
	}
	second, err := render("2.png", blue, green, red)
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("the order of the files changes the proof (%v)", err)
	}
	other := waves(t, at("d.png"), 3)
	if _, err := render("3.png", red, green, other); err == nil || !strings.Contains(err.Error(), "a.png") {
		t.Errorf("another plate is taken: %v", err)
	}
}

func TestWrongUseEndsWith2(t *testing.T) {
	for _, args := range [][]string{{}, {"print"}, {"proof"}, {"register", "-key", "black", "x"}, {"patch", "-palette", "none", "-y", "1", "-m", "1", "-c", "1"}, {"proof", "-layout", "tall-rrr", "x"}, {"proof", "-o", "./x.tif", "x.tif", "y.tif", "z.tif"}} {
		var out, said bytes.Buffer
		if code := run(args, &out, &said); code != 2 || said.Len() == 0 {
			t.Errorf("%q ends with %d and says %q", args, code, said.String())
		}
	}
	var out bytes.Buffer
	if code := run([]string{"help"}, &out, io.Discard); code != 0 || !strings.Contains(out.String(), "register") {
		t.Errorf("help ends with %d", code)
	}
}

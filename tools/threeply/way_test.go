package main

import (
	"bytes"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What the flags say of the way of printing is printed so and said; more light on every
// layer makes a darker print.
func TestProofPrintedAsAsked(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	files := []string{waves(t, at("a.png"), 0), waves(t, at("b.png"), 0.1), waves(t, at("c.png"), 0.2)}
	sum := map[string]int{}
	for _, c := range []struct {
		name string
		args []string
		says string
	}{
		{"tuned.png", nil, "Printed tuned"},
		{"straight.png", []string{"-straight", "-range", "1.3"}, "Printed straight: each plate enlarged to a density range of 1.3"},
		{"over.png", []string{"-expose", "0.5,0.5,0.5"}, "exposed off the normal by stops: yellow +0.50, magenta +0.50, cyan +0.50"},
	} {
		var said bytes.Buffer
		if err := proof(append(append([]string{"-o", at(c.name)}, c.args...), files...), &said, io.Discard); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(said.String(), c.says) {
			t.Errorf("%v: no “%s” in %s", c.args, c.says, said.String())
		}
		data, err := os.ReadFile(at(c.name))
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		for i := range 96 * 64 {
			r, g, b, _ := img.At(i%96, i/96).RGBA()
			sum[c.name] += int(r>>8 + g>>8 + b>>8)
		}
	}
	if sum["over.png"] >= sum["tuned.png"] || sum["straight.png"] == sum["tuned.png"] {
		t.Errorf("light of the prints: %v", sum)
	}
	for _, args := range [][]string{{"-expose", "1,2"}, {"-expose", "1,2,much"}, {"-expose", "9,0,0"}, {"-range", "0.1"}} {
		var out, said bytes.Buffer
		if code := run(append(append([]string{"proof", "-o", at("x.png")}, args...), files...), &out, &said); code != 2 || said.Len() == 0 {
			t.Errorf("%q ends with %d and says %q", args, code, said.String())
		}
		if _, err := os.Stat(at("x.png")); err == nil {
			t.Errorf("%q writes a file", args)
		}
	}
}

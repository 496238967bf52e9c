package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"threeply/proof/session"
)

// The JSON says what the files are: a general-purpose reader finds their sizes, the
// hashes are those of their bytes, and what a session says holds unless the command line
// says otherwise.
func TestNegativesSayWhatTheyAre(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(s *session.State) { s.PrintWidth, s.Route = 120, "clear-paper" })
	to := filepath.Join(dir, "film")
	args := append([]string{"negatives", "-session", kept, "-ppi", "100", "-json", "-o", to}, scans...)
	var out, warned bytes.Buffer
	if code := run(args, &out, &warned); code != 0 {
		t.Fatalf("ends with %d: %s", code, &warned)
	}
	var said struct {
		Files []written `json:"files"`
	}
	if err := json.Unmarshal(out.Bytes(), &said); err != nil {
		t.Fatalf("%v: %s", err, &out)
	}
	if len(said.Files) != 3 {
		t.Fatalf("%d files", len(said.Files))
	}
	for i, f := range said.Files {
		text, err := os.ReadFile(filepath.Join(to, f.Name))
		if err != nil {
			t.Fatal(err)
		}
		img, err := tiff.Decode(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(text)
		if b := img.Bounds(); b.Dx() != f.Width || b.Dy() != f.Height || hex.EncodeToString(sum[:]) != f.SHA256 {
			t.Errorf("%s: %v, %s", f.Name, b, f.SHA256)
		}
		want := 120 * 100 / 25.4
		if wide := float64(f.Trim[2] - f.Trim[0]); math.Abs(wide-want) > 0.5 || f.PPI != 100 || !f.Mirrored || f.Side != "emulsion" || f.Density != (densities{0, 2.2}) {
			t.Errorf("%+v", f)
		}
		if f.Layer != []string{"yellow", "magenta", "cyan"}[i] || len(f.Marks) != 8 || f.Marks[3] != said.Files[0].Marks[3] {
			t.Errorf("%+v", f)
		}
	}

	// What is there is left alone, unless it is asked for.
	before, err := os.Stat(filepath.Join(to, said.Files[0].Name))
	if err != nil {
		t.Fatal(err)
	}
	out.Reset()
	if code := run(args, &out, &warned); code != 1 || !strings.Contains(warned.String(), "it is there already") || out.Len() > 0 {
		t.Errorf("again it ends with %d and says %s", code, &warned)
	}
	if after, err := os.Stat(filepath.Join(to, said.Files[0].Name)); err != nil || !after.ModTime().Equal(before.ModTime()) {
		t.Errorf("the file was touched: %v", err)
	}
	base := append([]string{"negatives", "-session", kept, "-ppi", "100", "-overwrite", "-side", "base", "-json", "-o", to}, scans...)
	if code := run(base, &out, &warned); code != 0 || !strings.Contains(out.String(), `"mirrored": false`) {
		t.Errorf("with the base to the tissue it ends with %d and says %s", code, &out)
	}
}

// A film that was read by way of a step tablet ends at the density that its densest patch
// shares with the tablet, above the clear film.
func TestNegativesByTablet(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(s *session.State) { s.PrintWidth = 120 })
	wedge, tablet := filepath.Join(dir, "wedge.txt"), filepath.Join(dir, "tablet.txt")
	for name, text := range map[string]string{wedge: "0 14\n50 52\n100 83.5\n", tablet: "0 8\n0.35 14\n0.95 52\n1.25 74\n1.55 93\n"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	curves := filepath.Join(dir, "curves.csv")
	args := append([]string{"negatives", "-session", kept, "-ppi", "72", "-json", "-film", wedge, "-tablet", tablet, "-curves", curves, "-supports", "film, card", "-o", filepath.Join(dir, "film")}, scans...)
	var out, warned bytes.Buffer
	if code := run(args, &out, &warned); code != 0 {
		t.Fatalf("ends with %d: %s", code, &warned)
	}
	var said struct {
		Files []written `json:"files"`
	}
	if err := json.Unmarshal(out.Bytes(), &said); err != nil {
		t.Fatal(err)
	}
	if !said.Files[0].Mirrored {
		t.Error("after two transfers an ordinary negative, its emulsion on the tissue, is mirrored in its file")
	}
	if got := said.Files[0].Density.Max; math.Abs(got-1.05) > 1e-9 {
		t.Errorf("the film ends at %g, want 1.05", got)
	}
	if text, err := os.ReadFile(curves); err != nil || !strings.Contains(string(text), "negative_code_cyan") {
		t.Errorf("the curves: %v", err)
	}
}

func TestFilmWedge(t *testing.T) {
	to := filepath.Join(t.TempDir(), "wedge.tif")
	var out, warned bytes.Buffer
	if code := run([]string{"film", "-ppi", "72", "-o", to}, &out, &warned); code != 0 {
		t.Fatalf("ends with %d: %s", code, &warned)
	}
	text, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tiff.Decode(bytes.NewReader(text)); err != nil {
		t.Error(err)
	}
	if code := run([]string{"film", "-ppi", "1", "-o", to + "2"}, &out, &warned); code != 2 || !strings.Contains(warned.String(), "resolution of the printing negatives is 1") {
		t.Errorf("ends with %d: %s", code, &warned)
	}
}

func TestNegativesRefuse(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(s *session.State) {})
	falls := filepath.Join(dir, "falls.txt")
	if err := os.WriteFile(falls, []byte("0 0\n40 1\n60 0.8\n100 2\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "film")
	for _, c := range []struct {
		code int
		says string
		args []string
	}{
		{2, "-o is missing", nil},
		{2, "no file is named", []string{"-o", to, "-bare"}},
		{1, "falls.txt: line 3: the density falls back", []string{"-o", to, "-film", falls}},
		{1, "falls.txt: line 3: 60 % of the film prints 0.8 %", []string{"-o", to, "-screen", "40", "-least-tint", "3", "-most-tint", "96", "-least-dot", "30", "-dot-table", falls}},
		{2, "smallest tint that holds is 0.5", []string{"-o", to, "-least-tint", "50"}},
		{2, "-tablet goes with -film", []string{"-o", to, "-tablet", falls}},
		{1, "falls.txt, ", []string{"-o", to, "-film", falls, "-tablet", falls}},
		{2, "safe edge is 1", []string{"-o", to, "-safe-edge", "1"}},
		{2, "no film sheet", []string{"-o", to, "-sheet", "a9"}},
		{2, "no side of the film", []string{"-o", to, "-side", "top"}},
		{2, "no route", []string{"-o", to, "-route", "over"}},
		{2, "-route says direct", []string{"-o", to, "-route", "direct", "-supports", "film,card"}},
		{2, "support 2 of the route has no name", []string{"-o", to, "-supports", "film,,card"}},
		{1, "does not go on a sheet of A4", []string{"-o", to, "-sheet", "a4"}},
		{1, "more than the 4 GB", []string{"-o", to, "-ppi", "5000", "-width", "900"}},
	} {
		args := append([]string{"negatives"}, c.args...)
		if c.says != "no file is named" {
			args = append(append(args, "-session", kept), scans...)
		} else {
			args = args[:3]
		}
		var out, warned bytes.Buffer
		if code := run(args, &out, &warned); code != c.code || !strings.Contains(warned.String(), c.says) {
			t.Errorf("%q ends with %d and says %s", c.args, code, &warned)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(to, "*")); len(left) > 0 {
		t.Errorf("%q is left", left)
	}
}

package main

import (
	"bytes"
	"encoding/json"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/tiff"
)

// testSheetJSON is what “testsheet -json” says, read by nothing of the project's own.
type testSheetJSON struct {
	Patches []struct {
		ID, Use, Ground string
		LogE            map[string]*float64
	}
}

// A general-purpose reader finds each patch on the negatives by the register marks alone:
// as dense as its log exposure says, and opaque where its layer is absent.
func TestTestSheetNegatives(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "sheet")
	var out, warned bytes.Buffer
	if code := run([]string{"testsheet", "-palette", "chrome", "-ppi", "72", "-route", "direct", "-o", dir, "-json"}, &out, &warned); code != 0 {
		t.Fatalf("ends with %d: %s", code, &warned)
	}
	var said testSheetJSON
	if err := json.Unmarshal(out.Bytes(), &said); err != nil {
		t.Fatal(err)
	}
	if n := len(said.Patches); n < 90 || n > 120 {
		t.Fatalf("%d patches", n)
	}
	const film = 2.2 // of the usual film, code linear in density
	var opened [3]image.Image
	for i, layer := range []string{"yellow", "magenta", "cyan"} {
		text, err := os.ReadFile(filepath.Join(dir, layer+"-negative.tif"))
		if err != nil {
			t.Fatal(err)
		}
		if opened[i], err = tiff.Decode(bytes.NewReader(text)); err != nil {
			t.Fatal(err)
		}
	}
	// Direct onto the paper the negative is reversed: the picture reads right in the file
	// (DESIGN: transfers). The sheet is 120 × 100 mm; around it lie 3 mm of allowance, 14
	// of marks and 10 of safe edge, above all a strip of 10.
	const perMM = 72 / 25.4
	for _, p := range said.Patches {
		row, col := float64(p.ID[0]-'A'), 0.0
		for _, digit := range p.ID[1:] {
			col = 10*col + float64(digit-'0')
		}
		x, y := int((27+10*(col-1)+5)*perMM), int((10+27+10*row+5)*perMM)
		for i, layer := range []string{"yellow", "magenta", "cyan"} {
			r, _, _, _ := opened[i].At(x, y).RGBA()
			density := film * (1 - float64(r)/65535)
			want := film
			if v := p.LogE[layer]; v != nil {
				want = -*v
			}
			if diff := density - want; diff > 0.002 || diff < -0.002 {
				t.Fatalf("patch %s, %s: density %.3f instead of %.3f", p.ID, layer, density, want)
			}
		}
	}
	for _, name := range []string{"test-sheet.html", "test-sheet.json", "readings.csv", "seen.csv"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	if code := run([]string{"testsheet", "-palette", "chrome", "-o", dir}, &out, &warned); code != 1 {
		t.Errorf("over what is there it ends with %d", code)
	}
}

func TestTestSheetRefuses(t *testing.T) {
	for args, want := range map[string]string{
		"-palette none": "no palette", "-width 100": "size and marks of its own", "a.tif": "takes no files", "-palette none.json": "no such file",
	} {
		var out, warned bytes.Buffer
		if code := run(append([]string{"testsheet"}, strings.Fields(args)...), &out, &warned); code == 0 || !strings.Contains(warned.String(), want) {
			t.Errorf("%s: ends with %d: %s", args, code, &warned)
		}
	}
}

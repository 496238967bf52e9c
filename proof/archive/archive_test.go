package archive

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/tiff"

	"threeply/proof/bag/bagtest"
	"threeply/proof/label"
	"threeply/proof/picture/picturetest"
	"threeply/proof/session"
)

func scan(name, content string) Scan {
	return Scan{name, func(w io.Writer) error { _, err := io.WriteString(w, content); return err }}
}

// The package holds the scans, plates, sheets and the session, and is a valid bag.
func TestOf(t *testing.T) {
	s, planes := picturetest.Scene(32, func(_, x, y int) float64 { return float64(x+y) / 64 })
	var scans []Scan
	for i := range s.Sources {
		sum := sha256.Sum256([]byte(s.Sources[i].File))
		s.Sources[i].SHA256 = hex.EncodeToString(sum[:])
		scans = append(scans, scan("set/"+s.Sources[i].File, s.Sources[i].File))
	}
	for i := range s.Sources {
		s.Sources[i].Area = [4]int{2, 3, 30, 29} // the plates have borders
	}
	s.Identity.Number = "1937.0412"
	made := label.Made{Tool: "Threeply v1", At: time.Date(2026, 3, 2, 10, 20, 0, 0, time.UTC)}
	files, notes, err := Of(&s, planes, scans, made, nil)
	if err != nil || len(notes) > 0 {
		t.Fatalf("%q, %v", notes, err)
	}
	contents, paths := map[string]string{}, []string{}
	for _, f := range files {
		var b bytes.Buffer
		if err := f.Content(&b); err != nil {
			t.Fatal(err)
		}
		contents[f.Path], paths = b.String(), append(paths, f.Path)
	}
	if faults := bagtest.Faults(contents); len(faults) > 0 {
		t.Error(strings.Join(faults, "\n"))
	}
	want := strings.Fields(`data/about.txt data/scans/red.tif data/scans/green.tif data/scans/blue.tif data/registered/red.tif data/registered/green.tif data/registered/blue.tif
		data/registered/reference.tif data/registered/matrices.csv data/registered/verdict.csv data/sheets/review.html data/sheets/register.html data/sheets/process.html data/sheets/proof.tif data/sheets/tissues.icc data/session/session.json
		bagit.txt bag-info.txt manifest-sha256.txt tagmanifest-sha256.txt`)
	if !slices.Equal(paths, want) {
		t.Errorf("files %q", paths)
	}
	if back, err := session.Read("session.json", []byte(contents["data/session/session.json"])); err != nil || !back.Equal(s) {
		t.Errorf("the session in it is another one (%v)", err)
	}
	if contents["data/scans/red.tif"] != "red.tif" {
		t.Error("a scan is another one")
	}

	if proof, err := tiff.DecodeConfig(strings.NewReader(contents["data/sheets/proof.tif"])); err != nil || proof.Width != 28 || proof.Height != 26 {
		t.Errorf("the proof is %d × %d (%v), not the picture within the borders", proof.Width, proof.Height, err)
	}
	for sheet, wants := range map[string]string{"register": "Report on the register of three", "process": ": process sheet</h1>"} {
		if says := contents["data/sheets/"+sheet+".html"]; !strings.Contains(says, wants) || !strings.Contains(says, "1937.0412") {
			t.Errorf("the %s sheet is %.200q", sheet, says)
		}
	}

	s.Found[0].Confidence = 0
	_, notes, err = Of(&s, planes, []Scan{scan("red.tif", "changed")}, made, nil)
	if err != nil || len(notes) != 1 || !strings.Contains(notes[0], "left out") {
		t.Errorf("out of register: %q, %v", notes, err)
	}
	files, _, err = Of(&s, planes, []Scan{scan("red.tif", "changed")}, made, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := files[1].Content(io.Discard); err == nil || !strings.Contains(err.Error(), "red.tif: its content has changed") {
		t.Errorf("another scan: %v", err)
	}
}

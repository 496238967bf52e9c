package export

import (
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/picture/picturetest"
	"threeply/proof/render"
	"threeply/proof/session/sessiontest"
	"threeply/proof/spectrum"
)

// What a file says of itself is read by exiftool, a general-purpose reader of such
// words, which knows nothing of the writer.
func TestWhatFilesSay(t *testing.T) {
	if _, err := exec.LookPath("exiftool"); err != nil {
		t.Skip("SKIPPED: exiftool is missing, so what files say of themselves goes unread by another program; install libimage-exiftool-perl")
	}
	s, planes := picturetest.Scene(24, func(_, x, y int) float64 { return float64(x+y) / 48 })
	known := sessiontest.Marked()
	s.Title, s.Identity, s.PlateIdentities = "Quay at <dusk> & “noon”", known.Identity, known.PlateIdentities
	for i := range s.Sources {
		s.Sources[i].SHA256 = strings.Repeat(string("abc"[i]), 64)
	}
	s.Found, s.Registered, s.FoundKey = known.Found, "auto", 1
	made := label.Made{Tool: "Threeply v1", At: time.Date(2026, 3, 2, 10, 20, 0, 0, time.UTC)}
	p, err := NewProof(&s, planes, render.Print, spectrum.SRGB, made)
	if err != nil {
		t.Fatal(err)
	}
	for name, write := range map[string]func(io.Writer) error{
		"proof.png": p.WritePNG, "proof.tif": p.WriteTIFF,
		"red.tif":       RegisteredPlate(&s, planes, filter.Red, made).Write,
		"reference.tif": ReferencePicture(&s, planes, made).Write,
	} {
		path := filepath.Join(t.TempDir(), name)
		file, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := write(file); err != nil {
			t.Fatal(err)
		}
		if err := file.Close(); err != nil {
			t.Fatal(err)
		}
		said := readBy(t, path)
		want := map[string]string{
			"XMP-dc:Title": s.Title, "XMP-dc:Identifier": s.Identity.Number, "XMP-dc:Creator": "Ida Marten", "XMP-dc:Rights": "No known rights",
			"XMP-dc:Coverage": "Norhaven", "XMP-dc:Relation": "Harbour Board", "XMP-xmp:CreatorTool": "Threeply v1", "XMP-xmp:CreateDate": "2026:03:02 10:20:00Z",
			"XMP-plates:Set Sha256": strings.Join([]string{s.Sources[0].SHA256, s.Sources[1].SHA256, s.Sources[2].SHA256}, " "), "XMP-plates:Set Letter": "b",
			"XMP-plates:Key": "green",
		}
		if strings.HasSuffix(name, "tif") {
			for tag, says := range map[string]string{
				"IFD0:DocumentName": `Quay at <dusk> & "noon"`, "IFD0:Software": "Threeply v1", "IFD0:ModifyDate": "2026:03:02 10:20:00", "IFD0:Artist": "Ida Marten", "IFD0:Copyright": "No known rights",
			} {
				want[tag] = says
			}
		} else {
			for tag, says := range map[string]string{"PNG:Title-en": s.Title, "PNG:Software-en": "Threeply v1", "PNG:Author-en": "Ida Marten"} {
				want[tag] = says
			}
		}
		for tag, says := range want {
			if said[tag] != says {
				t.Errorf("%s: %s is %q, want %q", name, tag, said[tag], says)
			}
		}
		if says := said["XMP-dc:Description"]; !strings.HasPrefix(says, "Boats at the quay") || len(says) < 40 {
			t.Errorf("%s: described as %q", name, says)
		}
		if warned := said["ExifTool:Warning"]; warned != "" {
			t.Errorf("%s: %s", name, warned)
		}
		if m := strings.Fields(said["XMP-plates:Set MatrixFromKey"]); len(m) != 18 {
			t.Errorf("%s: %d numbers of matrices", name, len(m))
		}
	}
}

// sayings are texts by group and tag; those of a list are joined by blanks, the fields of
// structures are tags of their own.
type sayings map[string]string

func (s sayings) add(tag string, v any) {
	switch v := v.(type) {
	case string:
		s[tag] = strings.TrimSpace(s[tag] + " " + v)
	case []any:
		for _, one := range v {
			s.add(tag, one)
		}
	case map[string]any:
		for field, one := range v {
			s.add(tag+" "+field, one)
		}
	}
}

// readBy is what exiftool reads.
func readBy(t *testing.T, path string) sayings {
	t.Helper()
	out, err := exec.Command("exiftool", "-json", "-G1", "-struct", path).Output()
	if err != nil {
		t.Fatalf("exiftool: %v", err)
	}
	var files []map[string]any
	if err := json.Unmarshal(out, &files); err != nil || len(files) != 1 {
		t.Fatalf("exiftool says %s (%v)", out, err)
	}
	said := sayings{}
	for tag, v := range files[0] {
		said.add(tag, v)
	}
	return said
}

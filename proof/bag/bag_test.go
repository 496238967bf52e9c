package bag

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"threeply/proof/bag/bagtest"
)

func file(path, content string) File {
	return File{Path: path, Content: func(w io.Writer) error { _, err := io.WriteString(w, content); return err }}
}

var info = Info{Identifier: "1937.0412 a–c", Description: "Boats\nat the quay", Software: "Threeply v1", Date: time.Date(2026, 3, 2, 23, 0, 0, 0, time.UTC)}

func made(t *testing.T, payload ...File) map[string]string {
	t.Helper()
	all, err := Files(payload, info)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range all {
		var b bytes.Buffer
		if err := f.Content(&b); err != nil {
			t.Fatal(err)
		}
		out[f.Path] = b.String()
	}
	return out
}

func TestABagIsValid(t *testing.T) {
	bag := made(t, file("scans/red.tif", "red"), file("scans/100 %25.tif", "odd"), file("session/session.json", "{}"), file("empty.txt", ""))
	if f := bagtest.Faults(bag); len(f) > 0 {
		t.Error(strings.Join(f, "\n"))
	}
	if !strings.Contains(bag["bag-info.txt"], "External-Identifier: 1937.0412 a–c\n") || !strings.Contains(bag["bag-info.txt"], "External-Description: Boats at the quay\n") || strings.Contains(bag["bag-info.txt"], "Source-Organization") {
		t.Errorf("bag-info.txt is %q", bag["bag-info.txt"])
	}
	if !strings.Contains(bag["manifest-sha256.txt"], "  data/scans/100 %2525.tif\n") {
		t.Errorf("the manifest is %q", bag["manifest-sha256.txt"])
	}
	// The rules find what is wrong: a bag that was tampered with is not valid.
	for name, spoil := range map[string]func(){
		"changed": func() { bag["data/scans/red.tif"] = "Red" }, "missing": func() { delete(bag, "data/empty.txt") },
		"added": func() { bag["data/more.txt"] = "" }, "tag": func() { bag["bag-info.txt"] += "Contact-Name: x\n" }, "version": func() { bag["bagit.txt"] = "BagIt 1.0" },
	} {
		bag = made(t, file("scans/red.tif", "red"), file("empty.txt", ""))
		if spoil(); len(bagtest.Faults(bag)) == 0 {
			t.Errorf("%s: nobody notices", name)
		}
	}
}

func TestRefused(t *testing.T) {
	for _, path := range []string{"", "../red.tif", "/red.tif", "a//b", "a/../../b", "~/x", "a:b", "a\nb"} {
		if _, err := Files([]File{file(path, "")}, info); err == nil {
			t.Errorf("%q is taken", path)
		}
	}
	if _, err := Files([]File{file("a.tif", ""), file("A.tif", "")}, info); err == nil {
		t.Error("two files of one name on many discs are taken")
	}
	changed := file("red.tif", "red")
	changed.SHA256 = strings.Repeat("0", 64)
	all, err := Files([]File{changed}, info)
	if err != nil {
		t.Fatal(err)
	}
	if err := all[0].Content(io.Discard); err == nil || !strings.Contains(err.Error(), "red.tif: its content has changed") {
		t.Error(err)
	}
}

// pieces are what Zip writes, but for scans, of which the number is noted.
type pieces struct {
	all  []any
	skip bool
}

func (p *pieces) Skip(scan int) {
	if p.skip = scan > 0; p.skip {
		p.all = append(p.all, scan)
	}
}

func (p *pieces) Write(b []byte) (int, error) {
	if !p.skip {
		p.all = append(p.all, bytes.Clone(b))
	}
	return len(b), nil
}

// The archive has one folder at its top, in which the bag is valid; an out that takes scans
// from elsewhere makes the same.
func TestZip(t *testing.T) {
	scan := file("scans/red.tif", strings.Repeat("red", 50_000))
	scan.Scan = 1
	payload := func() []File {
		all, err := Files([]File{scan, file("sheets/review.html", "<p>")}, info)
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	var direct bytes.Buffer
	if err := Zip(&direct, "harbour", payload()); err != nil {
		t.Fatal(err)
	}
	p := &pieces{}
	if err := Zip(p, "harbour", payload()); err != nil {
		t.Fatal(err)
	}
	var put bytes.Buffer
	for _, piece := range p.all {
		if b, ok := piece.([]byte); ok {
			put.Write(b)
		} else if err := scan.Content(&put); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(direct.Bytes(), put.Bytes()) {
		t.Error("put together it is another archive")
	}
	z, err := zip.NewReader(bytes.NewReader(put.Bytes()), int64(put.Len()))
	if err != nil {
		t.Fatal(err)
	}
	bag := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		path, ok := strings.CutPrefix(f.Name, "harbour/")
		if !ok {
			t.Errorf("%s lies beside the folder", f.Name)
		}
		bag[path] = string(content)
	}
	if f := bagtest.Faults(bag); len(f) > 0 || len(bag) != 6 {
		t.Errorf("%d files: %s", len(bag), strings.Join(f, "\n"))
	}
}

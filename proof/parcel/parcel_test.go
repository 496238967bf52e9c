package parcel

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// made is a parcel of three scans, the session that is in it, and the scans.
func made(t *testing.T, change func(s *session.State)) (file []byte, s session.State, scans []Scan) {
	t.Helper()
	s = sessiontest.Marked()
	for i := range s.Sources {
		content := bytes.Repeat([]byte(s.Sources[i].File), 1000+i)
		sum := sha256.Sum256(content)
		s.Sources[i].SHA256 = hex.EncodeToString(sum[:])
		scans = append(scans, Scan{"set/" + s.Sources[i].File, int64(len(content)), func(w io.Writer) error { _, err := w.Write(content); return err }})
	}
	if change != nil {
		change(&s)
	}
	text, err := session.WriteFile(s, &session.Written{By: "Threeply v1", At: "2026-03-02T10:20:00Z"})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := Write(&b, text, `{"look":"beside"}`, scans); err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), s, scans
}

func read(file []byte) (*Parcel, error) {
	return Read("a.zip", bytes.NewReader(file), int64(len(file)))
}

func contentOf(t *testing.T, i Inside) []byte {
	t.Helper()
	r, err := i.Open()
	if err != nil {
		t.Fatal(err)
	}
	all, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func names(p *Parcel) (out []string) {
	for _, s := range p.Scans {
		out = append(out, s.Name)
	}
	return out
}

// What goes in comes out, and where it lies in the file its bytes lie.
func TestThereAndBack(t *testing.T) {
	file, s, scans := made(t, nil)
	p, err := read(file)
	if err != nil || len(p.Notes) > 0 || !p.Session.Equal(s) || p.Sight != `{"look":"beside"}` || !slices.Equal(names(p), []string{"red.tif", "green.tif", "blue.tif"}) {
		t.Fatalf("%v, %q, %q, %q", err, p.Notes, p.Sight, names(p))
	}
	for i, inside := range p.Scans {
		var want bytes.Buffer
		if err := scans[i].Content(&want); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(contentOf(t, inside), want.Bytes()) || !bytes.Equal(file[inside.At:inside.At+inside.Size], want.Bytes()) {
			t.Errorf("%s comes out changed", inside.Name)
		}
	}
}

// pieces takes what is written, but for scans, of which it notes the place.
type pieces struct {
	all  []any // bytes, or the number of a scan
	skip int
}

func (p *pieces) Skip(scan int) {
	if p.skip = scan; scan >= 0 {
		p.all = append(p.all, scan)
	}
}

func (p *pieces) Write(b []byte) (int, error) {
	if p.skip < 0 {
		p.all = append(p.all, bytes.Clone(b))
	}
	return len(b), nil
}

// An out that takes the scans from elsewhere makes the same file.
func TestSkipping(t *testing.T) {
	file, s, scans := made(t, nil)
	text, err := session.WriteFile(s, &session.Written{By: "Threeply v1", At: "2026-03-02T10:20:00Z"})
	if err != nil {
		t.Fatal(err)
	}
	p := &pieces{skip: -1}
	if err := Write(p, text, `{"look":"beside"}`, scans); err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	for _, piece := range p.all {
		if scan, ok := piece.(int); ok {
			if err := scans[scan].Content(&got); err != nil {
				t.Fatal(err)
			}
			continue
		}
		got.Write(piece.([]byte))
	}
	if !bytes.Equal(got.Bytes(), file) {
		t.Error("it is another file")
	}
}

// A scan that changes while the file is made is refused.
func TestAScanThatChanges(t *testing.T) {
	scan := Scan{"a.tif", 5, func(w io.Writer) error { _, err := io.WriteString(w, "four"); return err }}
	if err := Write(io.Discard, nil, "", []Scan{scan}); err == nil || !strings.Contains(err.Error(), "a.tif: 4 bytes could be read of 5") {
		t.Error(err)
	}
}

func TestNames(t *testing.T) {
	taken := map[string]bool{}
	for _, c := range [][2]string{
		{"a.tif", "a.tif"}, {"b/A.TIF", "A-2.TIF"}, {`c:\x\a.tif`, "a-3.tif"}, {"../../etc/passwd", "passwd"}, {"a\x00b?.tif", "a_b_.tif"}, {"..", "scan"}, {"", "scan-2"}, {"Blüte.tif", "Blüte.tif"},
	} {
		if got := FreeName(c[0], taken); got != c[1] {
			t.Errorf("%q: %q, want %q", c[0], got, c[1])
		}
	}
}

// A damaged file gives what is whole of it, and says what is not.
func TestDamage(t *testing.T) {
	file, s, _ := made(t, nil)
	sound, err := read(file)
	if err != nil {
		t.Fatal(err)
	}
	blue := sound.Scans[2]
	spoil := func(at int64) []byte {
		bad := bytes.Clone(file)
		bad[at] ^= 0xff
		return bad
	}
	for name, c := range map[string]struct {
		file  []byte
		scans int
		says  string
	}{
		"no list":           {file[:len(file)-30], 3, "list of contents is missing"},
		"cut in a scan":     {file[:blue.At+100], 2, "blue.tif is damaged (it is cut off)"},
		"cut before a scan": {file[:blue.At-40], 2, "blue.tif is not in the file"},
		"a spoilt scan":     {spoil(blue.At + 7), 2, "blue.tif is damaged (zip: checksum error)"},
		"both":              {spoil(blue.At + 7)[:len(file)-30], 2, "blue.tif is damaged (its checksum is wrong)"},
	} {
		p, err := read(c.file)
		if err != nil || !p.Session.Equal(s) || len(p.Scans) != c.scans || !strings.Contains(strings.Join(p.Notes, "\n"), c.says) {
			t.Errorf("%s: %d scans, %q (%v)", name, len(p.Scans), p.Notes, err)
		}
	}
	at := int64(bytes.Index(file, []byte(`"order": "`))) + int64(len(`"order": "`))
	p, err := read(spoil(at)[:len(file)-30])
	if err == nil { // the byte is no letter: the text is none
		t.Errorf("a session that is no text: %v", p.Notes)
	}
	if len(p.Scans) != 3 {
		t.Errorf("without its session %d scans", len(p.Scans))
	}
	bad := bytes.Clone(file)
	copy(bad[at:], "yyy")
	if p, err := read(bad); err != nil || p.Session.Order != session.New().Order || len(p.Scans) != 3 || !strings.Contains(strings.Join(p.Notes, "\n"), "begin anew: order") {
		t.Errorf("a wrong order: %v", err)
	}
}

// Programs that compress make a file that is read too.
func TestPackedByAnother(t *testing.T) {
	file, s, _ := made(t, nil)
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	packed := zip.NewWriter(&b)
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		w, err := packed.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(w, r); err != nil {
			t.Fatal(err)
		}
	}
	if err := packed.Close(); err != nil {
		t.Fatal(err)
	}
	p, err := read(b.Bytes())
	if err != nil || !p.Session.Equal(s) || len(p.Scans) != 3 || p.Scans[0].At != -1 || len(contentOf(t, p.Scans[0])) != int(p.Scans[0].Size) {
		t.Errorf("%q, %v", p.Notes, err)
	}
}

func TestRefused(t *testing.T) {
	later, _, _ := made(t, nil)
	ours := fmt.Appendf(nil, `"version": %d`, session.Version)
	theirs := fmt.Appendf(nil, `"version":%*d`, len(ours)-len(`"version":`), session.Version+1) // as long, for the archive says how long its files are
	later = bytes.Replace(later, ours, theirs, 1)
	other := func() []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		if _, err := z.Create("letter.txt"); err != nil {
			t.Fatal(err)
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}()
	for want, file := range map[string][]byte{
		"written by a later Threeply":  later,
		"there is no session.json":     other,
		"it is no session of Threeply": []byte("PK\x03\x04 and then nothing"),
		"nothing of it can be read":    {},
	} {
		if _, err := read(file); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// Whatever a file holds, reading it neither panics nor gives a session that is not sound.
func FuzzRead(f *testing.F) {
	var b bytes.Buffer
	text, err := session.Write(sessiontest.Marked())
	if err != nil {
		f.Fatal(err)
	}
	if err := Write(&b, text, "", nil); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add(b.Bytes()[:b.Len()-20])
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := read(file)
		if err == nil && p.Session.Check() != nil {
			t.Error("a session that is not sound")
		}
	})
}

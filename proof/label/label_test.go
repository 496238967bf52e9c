package label

import (
	"bytes"
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"threeply/proof/session/sessiontest"
)

var made = Made{"Threeply v1", time.Date(2026, 3, 2, 11, 20, 0, 0, time.FixedZone("", 3600))}

// texts are what stands in each element of an XML text, by its name, read by
// encoding/xml.
func texts(t *testing.T, text []byte) map[string][]string {
	t.Helper()
	out, at := map[string][]string{}, []string{}
	d := xml.NewDecoder(bytes.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			at = append(at, e.Name.Space+e.Name.Local)
		case xml.EndElement:
			at = at[:len(at)-1]
		case xml.CharData:
			if len(at) > 0 && strings.TrimSpace(string(e)) != "" {
				name := at[len(at)-1]
				if strings.HasSuffix(name, "#li") { // of a list: its property
					name = at[len(at)-3]
				}
				out[name] = append(out[name], string(e))
			}
		}
	}
}

func TestXMP(t *testing.T) {
	s := sessiontest.Marked()
	s.Title = `Quay <at> "dusk" & ` + "\u202eabc\u202c"
	s.Identity.Rights = "a\x01b" // XML holds no such sign
	got := texts(t, Of(&s, made, "Reference").XMP("image/tiff"))
	const dc, dcterms, xmp = "http://purl.org/dc/elements/1.1/", "http://purl.org/dc/terms/", "http://ns.adobe.com/xap/1.0/"
	for name, want := range map[string][]string{
		dc + "title": {s.Title}, dc + "identifier": {"1937.0412 a–c"}, dc + "creator": {"Ida Marten"}, dcterms + "created": {"about 1937"},
		dc + "coverage": {"Norhaven"}, dc + "relation": {"Harbour Board"}, dc + "rights": {"a\ufffdb"}, dc + "description": {"Boats at the quay\nReference"},
		dc + "format": {"image/tiff"}, xmp + "CreatorTool": {"Threeply v1"}, xmp + "CreateDate": {"2026-03-02T10:20:00Z"},
		Namespace + "Key": {"green"}, Namespace + "File": {"red.tif", "green.tif", "blue.tif"}, Namespace + "Letter": {"b"},
		Namespace + "SHA256": {s.Sources[0].SHA256, s.Sources[1].SHA256, s.Sources[2].SHA256},
	} {
		if !slices.Equal(got[name], want) {
			t.Errorf("%s: %q, want %q", name, got[name], want)
		}
	}
	if m := got[Namespace+"MatrixFromKey"]; len(m) != 3 || m[1] != "1 0 0 0 1 0" || len(strings.Fields(m[0])) != 6 {
		t.Errorf("matrices %q", m)
	}
}

// What is not known is left out, not written empty.
func TestXMPOfLittle(t *testing.T) {
	s := sessiontest.Opened()
	s.Title = ""
	text := string(Of(&s, made, "").XMP("image/png"))
	for _, name := range []string{"dc:title", "dc:creator", "dc:rights", "dc:description", "plates:Letter"} {
		if strings.Contains(text, name) {
			t.Errorf("there is an empty %s", name)
		}
	}
}

func TestPairs(t *testing.T) {
	s := sessiontest.Marked()
	seen := map[string]string{}
	for _, p := range Of(&s, made, "").Pairs() {
		if seen[p.Name] != "" || p.Says == "" {
			t.Errorf("%q is there twice, or says nothing", p.Name)
		}
		seen[p.Name] = p.Says
	}
	for name, want := range map[string]string{"title": "Harbour at dusk", "green plate, letter": "b", "made at": "2026-03-02T10:20:00Z", "blue plate": "blue.tif", "red plate, SHA-256": s.Sources[0].SHA256} {
		if seen[name] != want {
			t.Errorf("%s: %q, want %q", name, seen[name], want)
		}
	}
}

func TestTool(t *testing.T) {
	if name := Tool(); !strings.HasPrefix(name, "Threeply") || strings.ContainsAny(name, "()") {
		t.Errorf("%q", name)
	}
}

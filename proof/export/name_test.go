package export

import (
	"strings"
	"testing"
	"unicode/utf8"

	"threeply/proof/session"
)

// No file that leaves takes the name of a scan, whatever the title.
func TestFileNameIsNoScans(t *testing.T) {
	for _, c := range []struct {
		title, what string
		scans       []string
		want        string
	}{
		{"Winter table", "proof.png", []string{"winter-table_red.tif"}, "winter-table-proof.png"},
		{"winter", "proof.png", []string{"Winter-Proof.PNG", "b", "c"}, "winter-proof-2.png"},
		{"winter", "red-plate-in-register.tif", []string{"winter-red-plate-in-register.tif", "winter-red-plate-in-register-2.tif"}, "winter-red-plate-in-register-3.tif"},
		{"winter", "proof.tif", []string{"scans/winter-proof.tif", `c:\scans\winter-verdict.csv`}, "winter-proof-2.tif"},
		{"winter", "verdict.csv", []string{`c:\scans\winter-verdict.csv`}, "winter-verdict-2.csv"},
		{"Blüten & Schnee, 1909", "session.json", nil, "blüten-schnee-1909-session.json"},
		{"e\u0301te\u0301", "session.json", nil, "e\u0301te\u0301-session.json"},
		{"../../etc/passwd", "tissues.icc", nil, "etc-passwd-tissues.icc"},
		{" …/.", "session.json", nil, "threeply-session.json"},
		{"\xff\x00", "session.json", nil, "threeply-session.json"},
	} {
		s := session.New()
		s.Title = c.title
		for i := range c.scans {
			s.Sources[i].File = c.scans[i]
		}
		if got := FileName(&s, c.what); got != c.want {
			t.Errorf("%q, %q: %q, want %q", c.title, c.what, got, c.want)
		}
	}
	s := session.New()
	s.Title = strings.Repeat("ü", 200)
	long := FileName(&s, "green-plate-in-register.tif")
	if len(long) > 255 || !utf8.ValidString(long) || !strings.HasSuffix(long, "-green-plate-in-register.tif") {
		t.Errorf("%d bytes: %q", len(long), long)
	}
}

// Names follow the user's pattern; what would lead out of a folder, or hide a file, is left out.
func TestNamesByAPattern(t *testing.T) {
	for _, c := range []struct{ pattern, number, want string }{
		{"", "1937.0412 a–c", "harbour-proof.png"},
		{"{number}_{title}_{what}", "1937.0412 a–c", "1937-0412-a-c_harbour-proof.png"},
		{"{number}-{title}-{what}", "", "harbour-proof.png"},
		{"{what} of {title} ({palette})", "", "proof-of-harbour-clear-arylide.png"},
		{"../../{what}", "", "proof.png"},
		{".{what}", "", "proof.png"},
		{`C:\{number}\{what}`, "7", "C-7-proof.png"},
	} {
		s := session.New()
		s.Title, s.Identity.Number, s.Names = "Harbour", c.number, c.pattern
		if err := s.Check(); err != nil {
			t.Fatal(err)
		}
		if got := FileName(&s, "proof.png"); got != c.want {
			t.Errorf("%q: %q, want %q", c.pattern, got, c.want)
		}
	}
}

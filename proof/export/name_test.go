package export

import (
	"strings"
	"testing"
	"unicode/utf8"
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
		if got := FileName(c.title, c.what, c.scans); got != c.want {
			t.Errorf("%q, %q: %q, want %q", c.title, c.what, got, c.want)
		}
	}
	long := FileName(strings.Repeat("ü", 400), "green-plate-in-register.tif", nil)
	if len(long) > 255 || !utf8.ValidString(long) || !strings.HasSuffix(long, "-green-plate-in-register.tif") {
		t.Errorf("%d bytes: %q", len(long), long)
	}
}

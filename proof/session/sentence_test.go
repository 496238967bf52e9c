package session

import (
	"strings"
	"testing"
)

func TestSentenceLeavesFileNamesAsTheyAre(t *testing.T) {
	files := []string{"über.json", "session-x.json", "a", ""}
	for message, want := range map[string]string{
		"über.json: it is no session":           "über.json: it is no session.",
		"session-x.json: it is no session":      "session-x.json: it is no session.",
		"session-y.json: it is no session":      "Session-y.json: it is no session.",
		"a: it is empty. Copy it again.":        "a: it is empty. Copy it again.",
		"a print 3 mm wide: 10 to 5000 mm":      "A print 3 mm wide: 10 to 5000 mm.", // though there is a file a
		"an own limit":                          "An own limit.",
		"über alles ein Wort":                   "Über alles ein Wort.",
		"no palette “x”":                        "No palette “x”.",
		"":                                      ".",
		"\xff is no text":                       "\xff is no text.",
		"the scans: they belong to other ones.": "The scans: they belong to other ones.",
	} {
		if got := Sentence(message, files); got != want {
			t.Errorf("%q: %q, want %q", message, got, want)
		}
	}
}

// What Read says of a file begins with its name, so Sentence keeps it.
func TestSentenceOfWhatReadSays(t *testing.T) {
	const name = "ölberg 1907.json"
	_, err := Read(name, []byte("no session"))
	if err == nil {
		t.Fatal("text is read as a session")
	}
	if got := Sentence(err.Error(), []string{name}); !strings.HasPrefix(got, name+": ") {
		t.Error(got)
	}
	s := New()
	s.Sources[1].File, s.Sources[1].Film.Gamma = "été.tif", 9
	if err := s.check(); err == nil || !strings.HasPrefix(Sentence(err.Error(), s.Files()), "été.tif: ") {
		t.Error(err)
	}
}

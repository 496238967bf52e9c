package words

import "testing"

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

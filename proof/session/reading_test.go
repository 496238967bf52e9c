package session_test

import (
	"strings"
	"testing"
	"threeply/proof/session"
)

// Hand-edited sessions are refused in words for those who edit them.
func TestReadNamesTheWrongKind(t *testing.T) {
	for text, want := range map[string]string{
		`[]`:                             "its text is of the kind “array”",
		`"x"`:                            "its text is of the kind “string”",
		`{"version":2,"own_palettes":7}`: "“own_palettes” cannot be of the kind “number”",
		`{"version":2,"own_papers":[{"id":"x","name":"q","r":"no"}]}`:                       "“own_papers.r” cannot be of the kind “string”",
		`{"version":2,"own_palettes":[{"cyan":{"haze":"much"}}]}`:                           "“own_palettes.cyan.haze” cannot be of the kind “string”",
		`{"version":2,"print_width_mm":"wide"}`:                                             "“print_width_mm” cannot be",
		`{"version":2,"own_palettes":[null]}`:                                               "the id is missing",
		`{"version":2,"own_palettes":[{"id":"x","name":"X","era":"modern"}]}`:               "tissue is missing",
		`{"version":2,"own_palettes":[{"id":"x","name":"X","era":"modern","yellow":null}]}`: "tissue is missing",
		`{"version":2,`: "unexpected end",
	} {
		_, err := session.Read("kept.json", []byte(text))
		if err == nil || !strings.Contains(err.Error(), want) || !strings.HasPrefix(err.Error(), "kept.json: ") {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
		if err != nil && (strings.Contains(err.Error(), "Go ") || strings.Contains(err.Error(), "unmarshal")) {
			t.Errorf("%s: speaks of the decoder: %v", text, err)
		}
	}
}

package session_test

import (
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/words"
)

// What Read says of a file begins with its name, so Sentence keeps it.
func TestSentenceOfWhatReadSays(t *testing.T) {
	const name = "ölberg 1907.json"
	_, err := session.Read(name, []byte("no session"))
	if err == nil {
		t.Fatal("text is read as a session")
	}
	if got := words.Sentence(err.Error(), []string{name}); !strings.HasPrefix(got, name+": ") {
		t.Error(got)
	}
}

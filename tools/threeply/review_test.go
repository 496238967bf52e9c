package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/session"
)

// The sheet is of the session's scans, named or in its own file; a note lies where it was
// pinned, and nothing is written over.
func TestReviewSheet(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(s *session.State) {
		s.Notes = []session.Note{{N: 1, Source: 1, X: 48, Y: 32, Title: "Crest", At: "2026-03-02T10:20:00Z", State: session.NoteOpen, Seen: s.Shown()}}
	})
	to := filepath.Join(dir, "review.html")
	var said bytes.Buffer
	if err := reviewSheet(append([]string{"-session", kept, "-o", to}, scans...), &said, io.Discard); err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile(to)
	if err != nil || !strings.Contains(said.String(), "notes: 1") {
		t.Fatalf("said %q (%v)", &said, err)
	}
	for _, says := range []string{"Crest", "c.png"} {
		if !bytes.Contains(page, []byte(says)) {
			t.Errorf("the page does not say %q", says)
		}
	}
	if err := reviewSheet(append([]string{"-session", kept, "-o", to}, scans...), io.Discard, io.Discard); err == nil || !strings.Contains(err.Error(), "is there already") {
		t.Errorf("written over: %v", err)
	}
	for want, args := range map[string][]string{
		"-session is missing":           {"-o", to},
		"-o is missing":                 {"-session", kept},
		"no scans lie in":               {"-session", kept, "-o", filepath.Join(dir, "other.html")},
		"files that this command reads": {"-session", kept, "-o", kept},
	} {
		if err := reviewSheet(args, io.Discard, io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

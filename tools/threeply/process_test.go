package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/session"
)

func TestProcessSheet(t *testing.T) {
	dir := t.TempDir()
	kept, _ := saved(t, dir, func(s *session.State) { s.Title = "Quay at noon" })
	to := filepath.Join(dir, "process.html")
	var out, warned bytes.Buffer
	if code := run([]string{"process", "-session", kept, "-o", to}, &out, &warned); code != 0 {
		t.Fatalf("ends with %d: %s", code, &warned)
	}
	page, err := os.ReadFile(to)
	if err != nil || !strings.Contains(string(page), "<title>Quay at noon") || !strings.Contains(string(page), "Put down") {
		t.Errorf("%v: %.300s", err, page)
	}
	empty := keep(t, "empty.json", "")
	text, err := session.Write(session.New())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(empty, text, 0o600); err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(dir, "other.html")
	for _, c := range []struct {
		code int
		says string
		args []string
	}{
		{1, "it is there already", []string{"-session", kept, "-o", to}},
		{2, "-session is missing", []string{"-o", other}},
		{2, "-o is missing", []string{"-session", kept}},
		{2, "takes no files", []string{"-session", kept, "-o", other, kept}},
		{1, "no plates", []string{"-session", empty, "-o", other}},
	} {
		warned.Reset()
		if code := run(append([]string{"process"}, c.args...), &out, &warned); code != c.code || !strings.Contains(warned.String(), c.says) {
			t.Errorf("%q ends with %d and says %s", c.args, code, &warned)
		}
	}
}

package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/tools/files"
)

// A session with its scans in one file gives the proof that session and scans give, on a
// disc where the scans are not; so does it when it is damaged at its end.
func TestPackAndProof(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(s *session.State) {})
	want, _, _, err := rendered(t, kept, scans...)
	if err != nil {
		t.Fatal(err)
	}
	whole := filepath.Join(dir, "set.zip")
	if err := pack(append([]string{"-session", kept, "-o", whole}, scans[1], scans[0], scans[2]), io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	table := filepath.Join(dir, "table.csv")
	if err := os.WriteFile(table, []byte("file,number,letter\nb.png,1937.0412,b\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	named := filepath.Join(dir, "named.zip")
	if err := pack(append([]string{"-session", kept, "-table", table, "-o", named}, scans...), io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	if k, err := readSaved(&files.Job{}, named); err != nil || k.state.Identity.Number != "1937.0412" || k.state.PlateIdentities[1].Letter != "b" {
		t.Errorf("identified as %+v, %+v (%v)", k.state.Identity, k.state.PlateIdentities, err)
	}
	elsewhere := t.TempDir()
	for name, c := range map[string]struct {
		file  []byte
		warns string
	}{"whole.zip": {data, ""}, "damaged.zip": {data[:len(data)-30], "its list of contents is missing"}} {
		file := filepath.Join(elsewhere, name)
		if err := os.WriteFile(file, c.file, 0o644); err != nil {
			t.Fatal(err)
		}
		got, _, warned, err := rendered(t, file)
		if err != nil || !bytes.Equal(got, want) || !strings.Contains(warned, c.warns) || (warned == "") != (c.warns == "") {
			t.Errorf("%s: another proof, or warned of %q (%v)", name, warned, err)
		}
	}
	if got, _, _, err := rendered(t, whole, scans...); err != nil || !bytes.Equal(got, want) {
		t.Errorf("with the scans beside it: %v", err)
	}
}

func TestPackRefuses(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(s *session.State) {})
	other := waves(t, filepath.Join(dir, "d.png"), 3)
	to := filepath.Join(dir, "set.zip")
	for want, args := range map[string][]string{
		"d.png: it is no scan of this session": {"-session", kept, "-o", to, scans[0], other},
		"not named: ":                          {"-session", kept, "-o", to, scans[0], scans[1]},
		"named twice":                          {"-session", kept, "-o", to, scans[0], scans[0], scans[1]},
		"-o is missing":                        {"-session", kept, scans[0]},
		"-session is missing":                  {"-o", to, scans[0]},
	} {
		if err := pack(args, io.Discard, io.Discard); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
	if _, err := os.Stat(to); err == nil {
		t.Error("something was written")
	}
}

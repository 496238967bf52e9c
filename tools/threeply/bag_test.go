package main

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/bag/bagtest"
	"threeply/proof/session"
)

// The package on the disc is a valid bag, whether the scans are named or lie in the
// session's own file, and holds them byte for byte.
func TestBag(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(*session.State) {})
	whole := filepath.Join(dir, "set.zip")
	if err := pack(append([]string{"-session", kept, "-o", whole}, scans...), io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	for name, args := range map[string][]string{"named": append([]string{kept}, scans...), "inside": {whole}} {
		to := filepath.Join(dir, name, "bag")
		if err := bagSet(append([]string{"-o", to, "-session"}, args...), io.Discard, io.Discard); err != nil {
			t.Fatal(err)
		}
		contents := map[string]string{}
		err := filepath.WalkDir(to, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := os.ReadFile(path)
			below, _ := filepath.Rel(to, path)
			contents[filepath.ToSlash(below)] = string(data)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if faults := bagtest.Faults(contents); len(faults) > 0 {
			t.Errorf("%s: %s", name, strings.Join(faults, "\n"))
		}
		for _, scan := range scans {
			data, err := os.ReadFile(scan)
			if err != nil || !bytes.Equal(data, []byte(contents["data/scans/"+filepath.Base(scan)])) {
				t.Errorf("%s: %s is not in it as it is (%v)", name, scan, err)
			}
		}
	}
	if err := bagSet(append([]string{"-session", kept, "-o", dir}, scans...), io.Discard, io.Discard); err == nil || !strings.Contains(err.Error(), "is not empty") {
		t.Errorf("among other files: %v", err)
	}
}

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The library is the one that the changes were made for. That its shaders are what they would be
// without them, the browser tests hold.
func TestReadyLibrary(t *testing.T) {
	t.Chdir("../..")
	copied := t.TempDir()
	if err := copyLibrary(copied); err != nil {
		t.Fatal(err)
	}
	for _, c := range changes {
		if err := c.make(copied); err != nil {
			t.Error(err)
		}
	}
	for name := range additions {
		if _, err := os.Stat(filepath.Join(copied, name)); err == nil {
			t.Errorf("%s is there already", name)
		}
	}
}

// A library of another shape is refused with where that is.
func TestAnotherLibrary(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "a.go"), []byte("package a\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	err := change{"a.go", "func Compile(", "func compile("}.make(folder)
	if err == nil || !strings.Contains(err.Error(), "a.go") || !strings.Contains(err.Error(), "another version") {
		t.Errorf("%v", err)
	}
}

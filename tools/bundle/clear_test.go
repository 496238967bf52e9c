package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A folder that holds anything but an earlier build is not emptied; of one, the programs stay, which
// are linked anew only where they changed.
func TestAForeignFolderIsNotEmptied(t *testing.T) {
	page, err := os.ReadFile("../../web/index.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		files map[string]string
		ours  bool
		left  int
	}{
		{nil, true, 0},
		{map[string]string{"index.html": string(page), "page.wasm": "old", "page.wasm.gz": "old", "worker.js": "old"}, true, 2},
		{map[string]string{"page.wasm": "another’s"}, false, 1},
		{map[string]string{"red.tif": "a master"}, false, 1},
		{map[string]string{"index.html": "<title>Holidays</title>", "red.tif": "a master"}, false, 2},
	} {
		dir := t.TempDir()
		for name, text := range c.files {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		err := clear(dir)
		left, _ := os.ReadDir(dir)
		if c.ours && err != nil || !c.ours && (err == nil || !strings.Contains(err.Error(), dir)) || len(left) != c.left {
			t.Errorf("%v: %v, %d files are left", c.files, err, len(left))
		}
	}
	if err := clear(filepath.Join(t.TempDir(), "new", "folder")); err != nil {
		t.Error(err)
	}
}

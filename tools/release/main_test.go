package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"threeply/tools/version"
)

// The command line, built in two folders, is the same byte for byte, and says its version.
func TestTwoBuildsAreOne(t *testing.T) {
	other := t.TempDir()
	for _, name := range []string{"go.mod", "go.sum"} {
		content, err := os.ReadFile(filepath.Join("../..", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(other, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, folder := range []string{"proof", "tools/threeply", "tools/files", "tools/batch"} {
		if err := os.CopyFS(filepath.Join(other, folder), os.DirFS(filepath.Join("../..", folder))); err != nil {
			t.Fatal(err)
		}
	}
	var built [2][]byte
	for i, checkout := range []string{"../..", other} {
		to := filepath.Join(t.TempDir(), "threeply")
		if err := build(checkout, to, "linux/amd64", "1.2.3-try"); err != nil {
			t.Fatal(err)
		}
		content, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		built[i] = content
	}
	if !bytes.Equal(built[0], built[1]) {
		t.Error("two builds differ")
	}
	if !bytes.Contains(built[0], []byte("1.2.3-try")) {
		t.Error("the version is not in it")
	}
}

func TestPackAndSums(t *testing.T) {
	dir := t.TempDir()
	for i, at := range []time.Time{{}, time.Now()} {
		folder := fstest.MapFS{"b/c.txt": {Data: []byte("c"), ModTime: at}, "a.txt": {Data: []byte("a"), ModTime: at}}
		if err := pack(filepath.Join(dir, []string{"threeply-1.zip", "threeply-2.zip"}[i]), folder); err != nil {
			t.Fatal(err)
		}
	}
	one, _ := os.ReadFile(filepath.Join(dir, "threeply-1.zip"))
	two, _ := os.ReadFile(filepath.Join(dir, "threeply-2.zip"))
	if len(one) == 0 || !bytes.Equal(one, two) {
		t.Error("the times of the files are in it")
	}
	if err := sums(dir); err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("sha256sum"); err != nil {
		t.Skip("SKIPPED: sha256sum is not here to read the checksums")
	}
	c := exec.Command("sha256sum", "-c", sumsName)
	c.Dir = dir
	if out, err := c.CombinedOutput(); err != nil || strings.Count(string(out), "OK") != 2 {
		t.Errorf("%v: %s", err, out)
	}
	if err := empty(dir); err != nil {
		t.Error(err)
	}
	if left, _ := os.ReadDir(dir); len(left) != 0 {
		t.Errorf("%v is left", left)
	}
	os.WriteFile(filepath.Join(dir, "letter.txt"), nil, 0o600)
	if err := empty(dir); err == nil {
		t.Error("a folder with something else was emptied")
	}
}

func TestVersion(t *testing.T) {
	if v := version.Of(); strings.ContainsAny(v, " \n") {
		t.Errorf("%q", v)
	}
	if got := version.Linked("1.2"); !strings.HasSuffix(got, "label.version=1.2") || strings.Contains(version.Linked(""), "-X") {
		t.Error(got)
	}
}

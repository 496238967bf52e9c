package main

import (
	"bytes"
	"crypto/sha256"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/session"
)

// sums is the SHA-256 of every file in a folder.
func sums(t *testing.T, dir string) map[string][32]byte {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][32]byte{}
	for _, entry := range list {
		if info, err := os.Stat(filepath.Join(dir, entry.Name())); err != nil || info.IsDir() {
			continue
		}
		b, err := os.ReadFile(filepath.Join(dir, entry.Name()))
		if err != nil {
			t.Fatal(err)
		}
		all[entry.Name()] = sha256.Sum256(b)
	}
	return all
}

// masters puts three plates, a session, a palette and a paper into a folder.
func masters(t *testing.T, dir string) {
	t.Helper()
	for i, name := range []string{"red.tif", "green.tif", "blue.tif"} {
		plateOfDiscs(t, dir, name, 1, 5*(1-i), 0)
	}
	saved, err := session.Write(session.New())
	if err != nil {
		t.Fatal(err)
	}
	palette, err := ownPalette(t).Write()
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"saved.tif": string(saved), "palette.tif": string(palette), "paper.tif": "380 0.8\n730 0.8\n", "proof.png": "an older proof", "matrices.csv": "of an older run"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// No command writes over what it reads, under whatever name, with -overwrite or
// without; nor over anything else without it. No byte in the folder changes, and
// nothing comes into it.
func TestNoCommandHarmsWhatIsThere(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	masters(t, dir)
	if err := os.Link("red.tif", "hard.tif"); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("green.tif", "soft.tif"); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(dir, "here"); err != nil {
		t.Fatal(err)
	}
	before := sums(t, dir)
	plates := " red.tif green.tif blue.tif"
	for args, want := range map[string]int{
		"register -o ." + plates:                               2,
		"register -o here" + plates:                            2,
		"register -o ./here/../here -json" + plates:            2,
		"register -o . hard.tif green.tif blue.tif":            2,
		"register -o . -key blue blue.tif soft.tif hard.tif":   2,
		"register -o . here/red.tif green.tif blue.tif":        2,
		"register -o . palette.tif paper.tif saved.tif":        1, // red.tif is there, though not read
		"proof -o red.tif" + plates:                            2,
		"proof -o ./here/blue.tif" + plates:                    2,
		"proof -o hard.tif" + plates:                           2,
		"proof -o soft.tif" + plates:                           2,
		"proof -o RED.TIF" + plates:                            2,
		"proof -o saved.tif -session saved.tif" + plates:       2,
		"proof -o palette.tif -palette ./palette.tif" + plates: 2,
		"proof -o paper.tif -paper ./paper.tif" + plates:       2,
		"proof" + plates:                                       1, // proof.png is there
		"proof -o matrices.tif/x.png" + plates:                 1,
		"icc -palette ./palette.tif -o palette.tif":            2,
		"icc -palette earth -paper ./paper.tif -o paper.tif":   2,
		"icc -session saved.tif -o saved.tif":                  2,
		"icc -session saved.tif -o ./here/saved.tif":           2,
		"icc -palette earth -o matrices.csv":                   1,
		"icc -palette earth -o proof.png":                      1,
		"register -o matrices.csv" + plates:                    1,
		"register -o matrices.csv/folder" + plates:             1,
	} {
		for _, option := range []string{"", "-overwrite "} {
			if option != "" && want == 1 {
				continue
			}
			var said bytes.Buffer
			name, rest, _ := strings.Cut(args, " ")
			all := strings.Fields(name + " " + option + rest)
			if code := run(all, io.Discard, &said); code != want || said.Len() == 0 {
				t.Errorf("%q ends with %d, want %d: %s", all, code, want, &said)
			}
			if want == 2 && !strings.Contains(said.String(), "never written over") {
				t.Errorf("%q says %s", all, &said)
			}
			after := sums(t, dir)
			for file, sum := range after {
				if sum != before[file] {
					t.Fatalf("%q has changed %s", all, file)
				}
			}
			if len(after) != len(before) {
				t.Fatalf("%q has changed the number of files from %d to %d", all, len(before), len(after))
			}
		}
	}
}

// With -overwrite the older results are replaced, and only they.
func TestOverwriteReplacesResults(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	masters(t, dir)
	if err := os.Mkdir("out", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("out/red.tif", []byte("of an older run"), 0o644); err != nil {
		t.Fatal(err)
	}
	before := sums(t, dir)
	plates := " red.tif green.tif blue.tif"
	for _, args := range []string{
		"register -o out -overwrite" + plates,
		"proof -overwrite" + plates,
		"icc -palette earth -overwrite -o matrices.csv",
	} {
		var said bytes.Buffer
		if code := run(strings.Fields(args), io.Discard, &said); code != 0 {
			t.Errorf("%s ends with %d: %s", args, code, &said)
		}
	}
	for file, sum := range sums(t, dir) {
		if replaced := file == "proof.png" || file == "matrices.csv"; replaced == (sum == before[file]) {
			t.Errorf("%s is replaced: %v", file, !replaced)
		}
	}
	picture16(t, "out/red.tif")
	if got := len(sums(t, "out")); got != len(registeredFiles) {
		t.Errorf("%d files in the folder", got)
	}
}

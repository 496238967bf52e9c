package main

import (
	"bytes"
	"errors"
	"image"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/stack"
)

// An error of the disc names the user's file, says why, and what to do.
func TestErrorsOfTheDisc(t *testing.T) {
	dir := t.TempDir()
	file := keep(t, "file.txt", "text")
	missing := filepath.Join(dir, "none", "x.png")
	plates := []string{waves(t, filepath.Join(dir, "a.png"), 0), waves(t, filepath.Join(dir, "b.png"), 1), waves(t, filepath.Join(dir, "c.png"), 2)}
	with := func(args ...string) []string { return append(args, plates...) }
	proofOf := func(args []string, out io.Writer) error { return proof(args, out, io.Discard) }
	for _, c := range []struct {
		run    func([]string, io.Writer) error
		args   []string
		name   string
		reason string
	}{
		{registerPlates, []string{missing}, missing, "there is no such file. Check"},
		{registerPlates, []string{dir}, dir, "it is a folder. Name a file"},
		{registerPlates, []string{filepath.Join(file, "x.tif")}, filepath.Join(file, "x.tif"), "there is no such file. Check"},
		{proofOf, with("-session", missing), missing, "there is no such file. Check"},
		{proofOf, with("-palette", missing), missing, "there is no such file. Check"},
		{proofOf, with("-paper", missing), missing, "there is no such file. Check"},
		{palettes, []string{"-session", missing}, missing, "there is no such file. Check"},
		{patch, []string{"-palette", missing}, missing, "there is no such file. Check"},
		{patch, []string{"-palette", "earth", "-paper", missing}, missing, "there is no such file. Check"},
		{proofOf, with("-o", missing), missing, "there is no folder " + filepath.Dir(missing) + " to write it to. Make"},
		{profile, []string{"-palette", "earth", "-o", missing}, missing, "there is no folder"},
		{profile, []string{"-palette", "earth", "-o", dir}, dir, "it is a folder. Name"},
	} {
		err := c.run(c.args, io.Discard)
		var wrong usageError
		if err == nil || errors.As(err, &wrong) || !strings.HasPrefix(err.Error(), c.name+": "+c.reason) || !strings.HasSuffix(err.Error(), ".") {
			t.Errorf("%q: %v", c.args, err)
		}
	}
	left, err := filepath.Glob(filepath.Join(dir, ".part-*"))
	if err != nil || len(left) > 0 {
		t.Errorf("%q is left behind", left)
	}
}

// A sound file that needs another layout says how it is given here.
func TestLayoutIsGivenByItsOption(t *testing.T) {
	one := plateOf(t, t.TempDir(), "one.png", image.NewGray16(image.Rect(0, 0, 90, 80)))
	err := registerPlates([]string{one}, &bytes.Buffer{})
	if err == nil || !strings.Contains(err.Error(), one+": it is one grey scan") || !strings.Contains(err.Error(), "-layout tall-bgr") || strings.Contains(err.Error(), "Drop") {
		t.Errorf("%v", err)
	}
}

// An id that names nothing is told which there are.
func TestProofListsWhatThereIs(t *testing.T) {
	dir := t.TempDir()
	plates := []string{waves(t, filepath.Join(dir, "a.png"), 0), waves(t, filepath.Join(dir, "b.png"), 1), waves(t, filepath.Join(dir, "c.png"), 2)}
	for option, want := range map[string]string{"-palette": "arylide, ", "-paper": paperIDs(stack.Papers()), "-finish": "gloss, ", "-light": "D50, "} {
		err := proof(append([]string{option, "nope"}, plates...), io.Discard, io.Discard)
		var wrong usageError
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), "“nope”: give ") || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", option, err)
		}
	}
}

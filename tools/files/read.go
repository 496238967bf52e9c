// Package files reads what a command is given and writes what it makes. A file
// that was read is never written over, any other only where the user asked for
// that; and a file appears under its name when it is whole.
//
// Every refusal is a *scan.Error or a *Clash: it names the file, the reason and
// what to do.
package files

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"threeply/proof/scan"
)

// Job is the files of one run of a command: those that it has read, and those
// that it makes.
type Job struct {
	// Overwrite lets files that are there be replaced; never those that were read.
	Overwrite bool

	read    []given
	written []given                              // by this job
	create  func(folder string) (partial, error) // newPart, but in tests
}

// given is a file as it was named, and what the disc knows of it.
type given struct {
	name string
	info fs.FileInfo // nil where there is no such file
}

// Clash is a command line that would write over a file that it reads, or write
// two files under one name.
type Clash struct{ Refusal scan.Error }

func (c *Clash) Error() string { return c.Refusal.Error() }

// Read reads a file that the user named.
func (j *Job) Read(name string) ([]byte, error) {
	info, err := os.Stat(name)
	in := given{name, info}
	if err == nil && info.IsDir() {
		return nil, &scan.Error{File: name, Reason: "it is a folder", Remedy: "Name a file in it."}
	}
	if err == nil && info.Mode()&fs.ModeDevice != 0 { // it may never end
		return nil, noFile(name)
	}
	data, err := os.ReadFile(name)
	switch {
	case err == nil:
		j.read = append(j.read, in)
		return data, nil
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return nil, &scan.Error{File: name, Reason: "there is no such file", Remedy: "Check its name and its folder."}
	case errors.Is(err, fs.ErrPermission):
		return nil, &scan.Error{File: name, Reason: "you have no right to read it", Remedy: "Change that, or copy it to a folder of yours."}
	}
	return nil, &scan.Error{File: name, Reason: fmt.Sprintf("it cannot be read (%v)", cause(err)), Remedy: "Check the disc that it lies on, or copy it again."}
}

func noFile(name string) error {
	return &scan.Error{File: name, Reason: "it is no ordinary file", Remedy: "Name another one."}
}

// Open opens a file that the user named, for one that is too large to be read at once.
func (j *Job) Open(name string) (*os.File, error) {
	info, err := os.Stat(name)
	if err != nil || info.IsDir() || info.Mode()&fs.ModeDevice != 0 {
		_, err := j.Read(name) // which says why not
		return nil, err
	}
	f, err := os.Open(name)
	if err != nil {
		_, err := j.Read(name)
		return nil, err
	}
	j.read = append(j.read, given{name, info})
	return f, nil
}

// is says whether another name stands for the same file: spelled otherwise, in
// other case (which is the same file on many discs), or by a link of either kind.
func (g given) is(name string) bool {
	if strings.EqualFold(place(g.name), place(name)) {
		return true
	}
	other, err := os.Stat(name)
	return err == nil && g.info != nil && os.SameFile(g.info, other)
}

// place is where a name points to, links in its folder followed.
func place(name string) string {
	whole, err := filepath.Abs(name)
	if err != nil {
		return filepath.Clean(name)
	}
	folder, file := filepath.Split(whole)
	if real, err := filepath.EvalSymlinks(folder); err == nil {
		folder = real
	}
	return filepath.Join(folder, file)
}

func overInput(out, in string) error {
	same := "it is one of the files that this command reads"
	if filepath.Clean(out) != filepath.Clean(in) {
		same = fmt.Sprintf("it is the file %s, which this command reads, under another name", in)
	}
	return &Clash{scan.Error{File: out, Reason: same + "; these are never written over", Remedy: "Name another file or folder after -o."}}
}

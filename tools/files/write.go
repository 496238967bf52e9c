package files

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"threeply/proof/scan"
)

// Out is a file to be made.
type Out struct {
	Name    string
	Content func(io.Writer) error // writes all of it
}

// Bytes is the content of a file whose bytes are there already.
func Bytes(all []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(all)
		return err
	}
}

// MakeFolder makes a folder and those above it, where they are missing.
func MakeFolder(name string) error {
	err := os.MkdirAll(name, 0o755)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, syscall.ENOTDIR), errors.Is(err, fs.ErrExist):
		return &scan.Error{File: name, Reason: "it is a file, or lies in one, so it cannot be a folder", Remedy: "Name another folder after -o."}
	case errors.Is(err, fs.ErrPermission):
		return &scan.Error{File: name, Reason: "you have no right to make this folder", Remedy: "Name a folder of yours after -o."}
	}
	return unwritten(name, err)
}

// Plan says at once, before the work is done, what Write would refuse of the
// files of these names. reading names the files that are going to be read. A
// folder that is missing is no reason yet.
func (j *Job) Plan(names []string, reading ...string) error {
	for _, name := range reading {
		info, _ := os.Stat(name)
		j.read = append(j.read, given{name, info})
	}
	if err := j.mayWrite(names); err != nil {
		return err
	}
	for _, name := range names {
		if folder, err := os.Stat(filepath.Dir(name)); err != nil || !folder.IsDir() {
			continue
		}
		p, err := j.part(filepath.Dir(name))
		if err != nil {
			return unwritten(name, err)
		}
		drop(p)
	}
	return nil
}

func (j *Job) mayWrite(names []string) error {
	for i, name := range names {
		for _, other := range names[:i] {
			if strings.EqualFold(place(other), place(name)) {
				return twice(name)
			}
		}
		if err := j.harmless(name); err != nil {
			return err
		}
	}
	return nil
}

// Write makes files. Each is written beside its place under a name of its own,
// brought to the disc, and given its name once all of them are whole: where one
// fails, none appears and what was there keeps its bytes. An error of the disc
// names the file; one of a content comes back as it is.
func (j *Job) Write(outs ...Out) error {
	var names []string
	for _, out := range outs {
		names = append(names, out.Name)
	}
	if err := j.mayWrite(names); err != nil {
		return err
	}
	var parts []partial
	defer func() {
		for _, p := range parts {
			drop(p) // those that have their name by now are not there any more
		}
	}()
	for _, out := range outs {
		p, err := j.part(filepath.Dir(out.Name))
		if err != nil {
			return unwritten(out.Name, err)
		}
		parts = append(parts, p)
		if err := fill(p, out); err != nil {
			return err
		}
	}
	for i, out := range outs {
		if err := j.name(parts[i], out.Name); err != nil {
			return err
		}
	}
	return nil
}

// fill writes and closes a part.
func fill(p partial, out Out) error {
	disc := &discWriter{part: p}
	err := out.Content(disc)
	if disc.err == nil && err == nil {
		disc.err = p.Sync()
		if errors.Is(disc.err, errors.ErrUnsupported) || errors.Is(disc.err, syscall.EINVAL) {
			disc.err = nil // a disc that is reached through another program may not know of it
		}
	}
	if closed := p.Close(); disc.err == nil && err == nil {
		disc.err = closed
	}
	if disc.err != nil {
		return unwritten(out.Name, disc.err)
	}
	return err
}

// discWriter remembers what the disc said, whatever the writer of a content
// makes of it.
type discWriter struct {
	part partial
	err  error
}

func (d *discWriter) Write(b []byte) (int, error) {
	n, err := d.part.Write(b)
	if d.err == nil {
		d.err = err
	}
	return n, err
}

// name gives a whole part its name. Where files may not be replaced, the disc
// itself refuses one that came in the meantime: a link never replaces anything.
func (j *Job) name(p partial, name string) error {
	err := j.harmless(name)
	if err != nil {
		return err
	}
	if j.Overwrite {
		err = os.Rename(p.Name(), name)
	} else if err = os.Link(p.Name(), name); err != nil && !errors.Is(err, fs.ErrExist) {
		// A disc without links, such as a memory card's.
		if err = j.harmless(name); err != nil {
			return err
		}
		err = os.Rename(p.Name(), name)
	}
	if errors.Is(err, fs.ErrExist) {
		return there(name)
	}
	if err != nil {
		return unwritten(name, err)
	}
	drop(p)
	if info, err := os.Lstat(name); err == nil {
		j.written = append(j.written, given{name, info})
	}
	return nil
}

// harmless says why a file may not be written under this name, if so.
func (j *Job) harmless(name string) error {
	for _, in := range j.read {
		if in.is(name) {
			return overInput(name, in.name)
		}
	}
	for _, out := range j.written {
		if out.is(name) {
			return twice(name)
		}
	}
	info, err := os.Lstat(name)
	switch {
	case err != nil:
		return nil // nothing is there, or its folder's own error comes with the writing
	case info.IsDir():
		return &scan.Error{File: name, Reason: "it is a folder", Remedy: "Name a file in it after -o."}
	case info.Mode()&fs.ModeSymlink != 0:
		return &scan.Error{File: name, Reason: "it is a link to another file, and links are not replaced", Remedy: "Name a file of its own after -o."}
	case !info.Mode().IsRegular():
		return &scan.Error{File: name, Reason: "it is no ordinary file", Remedy: "Name another one after -o."}
	case !j.Overwrite:
		return there(name)
	case info.Mode().Perm()&0o222 == 0:
		return &scan.Error{File: name, Reason: "it is there already, protected from writing", Remedy: "Name another file or folder after -o, or lift the protection."}
	}
	return nil
}

func there(name string) error {
	return &scan.Error{File: name, Reason: "it is there already, and was left as it is", Remedy: "Name another file or folder after -o, or add -overwrite to replace what is there."}
}

func twice(name string) error {
	return &Clash{scan.Error{File: name, Reason: "two files would have this name", Remedy: "Give each its own."}}
}

// unwritten says why a file could not be written, by its own name and not by
// that of the part that stood for it.
func unwritten(name string, err error) error {
	folder := filepath.Dir(name)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return &scan.Error{File: name, Reason: fmt.Sprintf("there is no folder %s to write it to", folder), Remedy: "Make the folder first, or name another after -o."}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return &scan.Error{File: name, Reason: fmt.Sprintf("you have no right to write to the folder %s", folder), Remedy: "Name a folder of yours after -o."}
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return &scan.Error{File: name, Reason: "the disc is full, so it was not written", Remedy: "Make room, or name a folder on another disc after -o."}
	case errors.Is(err, syscall.EFBIG):
		return &scan.Error{File: name, Reason: "it is larger than a file may be there, so it was not written", Remedy: "Name a folder on another disc after -o."}
	}
	return &scan.Error{File: name, Reason: fmt.Sprintf("it cannot be written (%v)", cause(err)), Remedy: "Check the disc, or name another folder after -o."}
}

// cause is an error without the path that it speaks of.
func cause(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	if l, ok := errors.AsType[*os.LinkError](err); ok {
		return l.Err
	}
	return err
}

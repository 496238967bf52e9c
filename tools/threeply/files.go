package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"threeply/proof/scan"
)

// readFile reads a file of the command line. Its error names the file, the
// reason and what to do.
func readFile(name string) ([]byte, error) {
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		return nil, &scan.Error{File: name, Reason: "it is a folder", Remedy: "Name a file in it."}
	}
	data, err := os.ReadFile(name)
	switch {
	case err == nil:
		return data, nil
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return nil, &scan.Error{File: name, Reason: "there is no such file", Remedy: "Check its name and its folder."}
	case errors.Is(err, fs.ErrPermission):
		return nil, &scan.Error{File: name, Reason: "you have no right to read it", Remedy: "Change that, or copy it to a folder of yours."}
	}
	return nil, &scan.Error{File: name, Reason: fmt.Sprintf("it cannot be read (%v)", cause(err)), Remedy: "Check the disc that it lies on, or copy it again."}
}

// makeFolder makes a folder and those above it, where they are missing.
func makeFolder(name string) error {
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

// writeFile writes a file whole or not at all: what is there keeps its bytes
// until the new ones are complete. An error of the disc names the file, the
// reason and what to do; one of write comes back as it is.
func writeFile(name string, write func(io.Writer) error) error {
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		return &scan.Error{File: name, Reason: "it is a folder", Remedy: "Name a file in it after -o."}
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".part-*")
	if err != nil {
		return unwritten(name, err)
	}
	err = write(f)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err == nil {
		return nil
	}
	os.Remove(f.Name())
	_, ofPath := errors.AsType[*fs.PathError](err)
	_, ofLink := errors.AsType[*os.LinkError](err)
	if ofPath || ofLink {
		return unwritten(name, err)
	}
	return err
}

// unwritten says why a file could not be written, by its own name and not by
// that of the part that stood for it.
func unwritten(name string, err error) error {
	folder := filepath.Dir(name)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return &scan.Error{File: name, Reason: fmt.Sprintf("there is no folder %s to write it to", folder), Remedy: "Make the folder first, or name another after -o."}
	case errors.Is(err, fs.ErrPermission):
		return &scan.Error{File: name, Reason: fmt.Sprintf("you have no right to write to the folder %s", folder), Remedy: "Name a folder of yours after -o."}
	case errors.Is(err, syscall.ENOSPC):
		return &scan.Error{File: name, Reason: "the disc is full, so it was not written", Remedy: "Make room, or name a folder on another disc after -o."}
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

package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"threeply/proof/archive"
	"threeply/proof/command"
	"threeply/proof/label"
	"threeply/tools/files"
)

// bagSet writes a set and all that was made of it as an archive package.
func bagSet(args []string, out, warn io.Writer) error {
	f := flag.NewFlagSet("bag", flag.ContinueOnError)
	from := f.String("session", "", "the session that the page saved")
	opening := addOpening(f)
	table := addTable(f)
	to := f.String("o", "", "the folder to make; it must not be there yet, or be empty")
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply bag -session FILE -o FOLDER [options] FILE...\n\nWrites an archive package by RFC 8493 (BagIt, SHA-256): the scans untouched, the\nplates in register, the reference, the proof, the review sheet, the report on\nregister, the process sheet, the profile of the tissues, tables, and the session.\nFiles: the scans of the session, unless they lie in the session's own file.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	switch {
	case *from == "":
		return usageError("-session is missing: name the session")
	case *to == "":
		return usageError("-o is missing: name the folder to make")
	}
	if err := emptyFolder(*to); err != nil {
		return err
	}
	job := &files.Job{}
	set, s, _, err := openWork(job, opening, *from, f.Args(), func(note string) { fmt.Fprintf(warn, "threeply bag: %s\n", note) })
	if err != nil {
		return err
	}
	history := command.NewHistory(s)
	if err := identify(job, history, *table); err != nil {
		return err
	}
	if _, err := settle(history, set, wanted{}); err != nil {
		return err
	}
	scans, err := scansFor(job, *from, f.Args())
	if err != nil {
		return err
	}
	list, notes, err := archive.Of(&history.State, set.Density, scans, label.Now(), nil)
	if err != nil {
		return err
	}
	for _, note := range notes {
		fmt.Fprintf(warn, "threeply bag: %s\n", note)
	}
	var outs []files.Out
	for _, one := range list {
		name := filepath.Join(*to, filepath.FromSlash(one.Path))
		if err := files.MakeFolder(filepath.Dir(name)); err != nil {
			return err
		}
		outs = append(outs, files.Out{Name: name, Content: one.Content})
	}
	if err := job.Write(outs...); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s: a bag of %d files\n", *to, len(outs))
	return err
}

// emptyFolder refuses a folder that holds something: a bag lists all that lies in it.
func emptyFolder(name string) error {
	there, err := os.ReadDir(name)
	if err == nil && len(there) > 0 {
		return fmt.Errorf("%s: the folder is not empty, and a bag holds nothing but its own files; name a new folder after -o", name)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: it cannot be a folder (%v); name another one after -o", name, err)
	}
	return nil
}

// scansFor are the files of a set as they go into a package: the named ones, else those in
// the session's own file.
func scansFor(job *files.Job, saved string, names []string) (scans []archive.Scan, err error) {
	for _, name := range names {
		data, err := job.Read(name)
		if err != nil {
			return nil, err
		}
		scans = append(scans, archive.Scan{Name: filepath.Base(name), Content: files.Bytes(data)})
	}
	if len(names) > 0 {
		return scans, nil
	}
	kept, err := readSaved(job, saved)
	if err != nil {
		return nil, err
	}
	for _, inside := range kept.scans {
		scans = append(scans, archive.Scan{Name: inside.Name, Content: func(w io.Writer) error {
			_, err := io.Copy(w, io.NewSectionReader(inside.Data, 0, inside.Data.Size()))
			return err
		}})
	}
	return scans, nil
}

package main

import (
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"io"
	"path/filepath"

	"threeply/proof/command"
	"threeply/proof/label"
	"threeply/proof/parcel"
	"threeply/proof/session"
	"threeply/tools/files"
)

// pack writes a session and its scans as one file.
func pack(args []string, out, warn io.Writer) error {
	f := flag.NewFlagSet("pack", flag.ContinueOnError)
	from := f.String("session", "", "the session that the page saved")
	table := addTable(f)
	to := f.String("o", "", "the .zip file to write")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply pack -session FILE -o FILE.zip FILE...\n\nWrites a session and its scans, untouched, as one file, which the page and all\ncommands open on any machine. Files: the scans of the session, in any order.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	switch {
	case *from == "":
		return usageError("-session is missing: name the session")
	case *to == "":
		return usageError("-o is missing: name the .zip file to write")
	case f.NArg() == 0:
		return usageError("no file is named: name the scans of the session")
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan([]string{*to}, append([]string{*from, *table}, f.Args()...)...); err != nil {
		return err
	}
	kept, err := readSaved(job, *from)
	if err != nil {
		return err
	}
	for _, note := range kept.notes {
		fmt.Fprintf(warn, "threeply pack: %s\n", note)
	}
	scans, err := scansOf(job, &kept.state, f.Args())
	if err != nil {
		return err
	}
	history := command.NewHistory(kept.state)
	if err := identify(job, history, *table); err != nil {
		return err
	}
	text, err := session.WriteFile(history.State, label.Now().Written())
	if err != nil {
		return err
	}
	if err := job.Write(files.Out{Name: *to, Content: func(w io.Writer) error { return parcel.Write(w, text, "", scans) }}); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s: the session with %d scans\n", *to, len(scans))
	return err
}

// scansOf reads the scans of a session, each of which must be one by its content.
func scansOf(job *files.Job, s *session.State, names []string) (scans []parcel.Scan, err error) {
	missing := map[string]string{} // SHA-256 to the file's name
	for _, src := range s.Sources {
		missing[src.SHA256] = filepath.Base(src.File)
	}
	for _, name := range names {
		data, err := job.Read(name)
		if err != nil {
			return nil, err
		}
		digest := sha256.Sum256(data)
		sum := hex.EncodeToString(digest[:])
		if _, wanted := missing[sum]; !wanted {
			return nil, fmt.Errorf("%s: it is no scan of this session, or is named twice; name %s, as they were when the session was saved", name, listed(s.Files(), filepath.Base))
		}
		delete(missing, sum)
		scans = append(scans, parcel.Scan{Name: name, Size: int64(len(data)), Content: files.Bytes(data)})
	}
	for _, name := range missing {
		return nil, usageError(fmt.Sprintf("a scan of the session is not named: %s", name))
	}
	return scans, nil
}

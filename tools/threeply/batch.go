package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"io"
	"iter"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"threeply/proof/export"
	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/scan"
	"threeply/tools/batch"
	"threeply/tools/files"
)

const batchHelp = `Usage: threeply batch [options] MANIFEST
       threeply batch [options] 'FOLDER/{set}_{plate}.tif'
       threeply batch merge -o FOLDER REPORT...

Works on many sets: registers each, judges it, and writes its proofs and its
registered plates into a folder of its own; then a report of all (report.csv)
and a contact sheet (contact.html), what a person must look at first standing
first. A set that fails is a line of the report.

MANIFEST is a table (CSV) with a row for each set and the columns set, red,
green and blue, or set and file; besides, where wanted: session, or recipe (a
session of any scans, of which tissues, paper, light and way of printing are
taken), layout, encoding, key, palettes, and what the object is: title, number,
creator, created, place, collection, description, rights. In a pattern {set} stands for
the set and {plate} for red, green, blue or their first letters.

Run again, it goes on where it was ended: a set whose scans, options and version
are the same is not made anew, wherever they were moved together with their
manifest. Two runs at once take turns at a set. All files of a batch carry the
time of its beginning. Several machines share a batch by -shard; “merge” puts their reports
together.

`

// batchOptions are what a batch does with each set.
type batchOptions struct {
	opening  openOptions
	key      *string
	assume   wanted
	palettes []string
	plates   bool
	space    string
	made     label.Made

	out       string
	shard     batch.Shard
	overwrite bool
	read      map[string]bool // folders that must not be made anew, see batch.LyingIn
}

// batchSets works on many sets.
func batchSets(args []string, out, warn io.Writer) error {
	if len(args) > 0 && args[0] == "merge" {
		return mergeReports(args[1:], out)
	}
	f := flag.NewFlagSet("batch", flag.ContinueOnError)
	opening := addOpening(f)
	key := addKey(f, "the plate that the others are registered to")
	assume := f.String("assume", "", "what to suppose of the scenes' light: "+assumptionIDs()+", or none to take each plate by itself")
	palettes := f.String("palettes", "", "palettes of the proofs, with commas between (default: the session's, or "+pigment.Palettes()[0].ID+"); “threeply palettes” lists them")
	plates := f.Bool("plates", true, "write the plates in register too, as 16-bit TIFFs")
	space := f.String("space", "srgb", "colour space of the proofs: srgb, or p3 for Display P3")
	to := f.String("o", "batch", "folder for the sets' folders, the report and the contact sheet")
	cores := f.Int("j", 1, fmt.Sprintf("sets to work on at a time, each in the memory of its own plates (this machine has %d cores)", runtime.NumCPU()))
	part := f.String("shard", "", "take only part i of n, as i/n: set 1, n+1, 2n+1 … for i = 1")
	at := f.String("at", "", "time that the files carry, such as 2026-03-02T10:20:00Z (default: when the batch was begun)")
	overwrite := f.Bool("overwrite", false, "make sets anew that a batch made of other scans or in another way")
	f.Usage = func() {
		fmt.Fprint(f.Output(), batchHelp)
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if f.NArg() != 1 {
		return usageError("give one manifest, or one pattern")
	}
	if *to == "" {
		return usageError("-o is missing: name the folder for the sets' folders")
	}
	if err := checkKey(*key); err != nil {
		return err
	}
	if _, err := layoutOptions(*opening.layout); err != nil {
		return err
	}
	encodings, err := opening.encodings()
	if err != nil {
		return err
	}
	for _, name := range encodings {
		if err := scan.CheckEncoding("-encoding", name); err != nil {
			return usageError(err.Error())
		}
	}
	if *cores < 1 {
		return usageError(fmt.Sprintf("-j %d: one set at least is worked on at a time", *cores))
	}
	b := batchOptions{opening: opening, key: key, plates: *plates, space: *space, out: *to, overwrite: *overwrite}
	none := ""
	if b.assume, err = (levelOptions{neutral: &none, scale: &none, assume: assume, step: new("")}).read(); err != nil {
		return err
	}
	if b.shard, err = batch.ParseShard(*part); err != nil {
		return usageError("-shard " + err.Error())
	}
	if _, err := export.SpaceOf(b.space); err != nil {
		return usageError(err.Error())
	}
	if b.palettes = listOf(*palettes); len(b.palettes) > 0 {
		for _, id := range b.palettes {
			if namesFile(id) {
				return usageError(fmt.Sprintf("-palettes %s: give ids; a palette of your own comes with a session", id))
			}
		}
	}
	if err := files.MakeFolder(b.out); err != nil {
		return err
	}
	if b.made, err = batch.Begun(b.out, *at, *overwrite, time.Now()); err != nil {
		return err
	}
	return b.run(f.Arg(0), *cores, out, warn)
}

// listOf are the parts of a text between commas, semicolons and blanks.
func listOf(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",; ", r) })
}

// isPattern tells a pattern from a manifest's name.
func isPattern(name string) bool {
	return strings.Contains(name, batch.SetPlace) || strings.Contains(name, batch.PlatePlace)
}

// sets gives the sets of a manifest or a pattern, one by one.
func sets(name string) (iter.Seq2[batch.Set, error], func() error, error) {
	if isPattern(name) {
		found, err := batch.Find(name)
		if err != nil {
			return nil, nil, err
		}
		return func(yield func(batch.Set, error) bool) {
			for _, s := range found {
				if !yield(s, nil) {
					return
				}
			}
		}, func() error { return nil }, nil
	}
	in, err := (&files.Job{}).Open(name)
	if err != nil {
		return nil, nil, err
	}
	return batch.Manifest(name, in), in.Close, nil
}

// run works on the sets of the shard, so many at a time, and writes report and contact
// sheet.
func (b batchOptions) run(name string, cores int, out, warn io.Writer) error {
	if b.overwrite {
		all, done, err := sets(name)
		if err != nil {
			return err
		}
		b.read = batch.LyingIn(b.out, all)
		done()
	}
	all, done, err := sets(name)
	if err != nil {
		return err
	}
	defer done()
	var read []string
	if !isPattern(name) {
		read = []string{name}
	}
	report, err := planReport(b.out, b.shard, read)
	if err != nil {
		return err
	}
	var (
		lock    sync.Mutex
		work    sync.WaitGroup
		figures batch.Gathered
		fault   error
		kept    int
		free    = make(chan struct{}, cores)
		index   = -1
	)
	defer figures.Close()
	for s, err := range all {
		if err != nil {
			work.Wait()
			return err
		}
		if index++; !b.shard.Takes(index) {
			continue
		}
		free <- struct{}{}
		work.Go(func() {
			defer func() { <-free }()
			f, again := b.set(s, func() {
				lock.Lock()
				defer lock.Unlock()
				fmt.Fprintf(warn, "%s: another run works on it, and is waited for\n", s.Name)
			})
			lock.Lock()
			defer lock.Unlock()
			fault = errors.Join(fault, figures.Add(f))
			if again {
				kept++
			}
			fmt.Fprintf(warn, "%d %s: %s\n", figures.Sets, s.Name, strings.TrimPrefix(strings.Join(append([]string{f.Verdict}, f.Look...), "; "), "; "))
		})
	}
	work.Wait()
	if fault != nil {
		return fmt.Errorf("the figures for the report cannot be kept: %w; make room, and run it again: finished sets are not made anew", fault)
	}
	if err := writeReport(report, b.out, b.shard, &figures); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%d sets, %d of them made before, %d failed: %s\n", figures.Sets, kept, figures.Failed, filepath.Join(b.out, b.shard.Report()))
	return err
}

// planReport looks, before the work is done, whether the report and the contact sheet of a
// shard can be written: never over what is read, and only over those of an earlier run.
func planReport(folder string, shard batch.Shard, read []string) (*files.Job, error) {
	job := &files.Job{Overwrite: true}
	if err := job.Plan(shard.Outputs(folder), read...); err != nil {
		return nil, err
	}
	return job, shard.MayReplace(folder)
}

// writeReport writes the report and the contact sheet of a shard.
func writeReport(job *files.Job, folder string, shard batch.Shard, figures *batch.Gathered) error {
	names := shard.Outputs(folder)
	return job.Write(
		files.Out{Name: names[0], Content: func(w io.Writer) error { return batch.Report(w, figures) }},
		files.Out{Name: names[1], Content: func(w io.Writer) error { return batch.Contact(w, figures) }},
	)
}

// set works on a set, or finds it made; again says so. It calls waits where another run works on
// the set. What goes wrong is part of the
// figures.
func (b batchOptions) set(s batch.Set, waits func()) (f batch.Figures, again bool) {
	defer func() {
		if fault := recover(); fault != nil { // no set ends the others
			f = s.Failed(fmt.Sprintf("a fault of the program: %v", fault))
		}
	}()
	if s.Fault != "" {
		return s.Failed(s.Fault), false
	}
	read := slices.Clone(s.Files)
	for _, name := range []string{s.Session, s.Recipe} {
		if name != "" {
			read = append(read, name)
		}
	}
	digest, err := batch.Digest([]any{b.made.Tool, b.made.Time(), s.Named, s.Says, *b.key, *b.opening.layout, *b.opening.encoding, b.assume.by, b.assume.light, b.palettes, b.plates, b.space}, read...)
	if err != nil {
		return s.Failed(err.Error()), false
	}
	if r, ok := batch.Finished(b.out, s.Name, digest); ok {
		return r.Figures, true
	}
	if b.read[strings.ToLower(s.Name)] {
		return s.Failed((&scan.Error{File: filepath.Join(b.out, s.Name), Reason: "scans or a session that this batch reads lie in it, so it was not made anew", Remedy: "Copy these elsewhere, or name another folder after -o."}).Error()), false
	}
	r, again, err := batch.Make(b.out, s.Name, digest, b.overwrite, waits, func(folder string) (batch.Figures, error) { return b.make(s, folder) })
	if err != nil {
		return s.Failed(err.Error()), false
	}
	return r.Figures, again
}

// mergeReports puts the reports of shards together.
func mergeReports(args []string, out io.Writer) error {
	f := flag.NewFlagSet("batch merge", flag.ContinueOnError)
	to := f.String("o", "batch", "folder for the merged report.csv and contact.html; the sets' folders stay where they are")
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply batch merge -o FOLDER REPORT...\n\nPuts the reports of the shards of a batch together, and their contact sheets.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if f.NArg() == 0 {
		return usageError("no report is named")
	}
	report, err := planReport(*to, batch.Whole, f.Args())
	if err != nil {
		return err
	}
	job := &files.Job{}
	var all batch.Gathered
	defer all.Close()
	given := map[[sha256.Size]byte]string{}
	seen := map[string]string{} // where a set that was made is
	for _, name := range f.Args() {
		text, err := job.Read(name)
		if err != nil {
			return err
		}
		if other, twice := given[sha256.Sum256(text)]; twice && bytes.Count(text, []byte("\n")) > 1 {
			return fmt.Errorf("%s: it holds the same as %s; give each shard once", name, other)
		}
		given[sha256.Sum256(text)] = name
		one, err := batch.ReadReport(name, text)
		if err != nil {
			return err
		}
		if err := batch.Moved(one, filepath.Dir(name), *to); err != nil {
			return err
		}
		for _, figures := range one {
			if figures.Folder != "" { // a set of which nothing came can have the name of another
				if other, twice := seen[figures.Set]; twice {
					return fmt.Errorf("%s: the set “%s” is in %s too; give each shard once", name, figures.Set, other)
				}
				seen[figures.Set] = name
			}
			if err := all.Add(figures); err != nil {
				return err
			}
		}
	}
	if err := files.MakeFolder(*to); err != nil {
		return err
	}
	if err := writeReport(report, *to, batch.Whole, &all); err != nil {
		return err
	}
	missing := ""
	if shards := batch.Missing(f.Args()); shards != "" {
		missing = "; no report was given of the shards " + shards
	}
	_, err = fmt.Fprintf(out, "%d sets: %s%s\n", all.Sets, filepath.Join(*to, batch.Whole.Report()), missing)
	return err
}

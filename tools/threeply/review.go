package main

import (
	"flag"
	"fmt"
	"io"

	"threeply/proof/command"
	"threeply/proof/label"
	"threeply/proof/review"
	"threeply/tools/files"
)

// reviewSheet writes what a review ended with as a page to be printed.
func reviewSheet(args []string, out, warn io.Writer) error {
	f := flag.NewFlagSet("review", flag.ContinueOnError)
	from := f.String("session", "", "the session that the page saved")
	opening := addOpening(f)
	table := addTable(f)
	edges := f.Bool("edges", false, "show the edges of the plates too, not the picture within them alone")
	to := f.String("o", "", "the .html file to write")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply review -session FILE -o FILE.html [options] FILE...\n\nWrites the review of a set as one page to be printed and kept: reference and print,\nnotes with their places, figures with their ranges, register, the decision and what\nit rests on, the SHA-256 of the scans, and room to sign. Files: the scans of the\nsession, unless they lie in the session's own file.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	switch {
	case *from == "":
		return usageError("-session is missing: name the session")
	case *to == "":
		return usageError("-o is missing: name the .html file to write")
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan([]string{*to}, append([]string{*from, *table}, f.Args()...)...); err != nil {
		return err
	}
	set, s, _, err := openWork(job, opening, *from, f.Args(), func(note string) { fmt.Fprintf(warn, "threeply review: %s\n", note) })
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
	sheet, err := review.Of(&history.State, set.Density, label.Now(), review.Options{Edges: *edges}, nil)
	if err != nil {
		return err
	}
	if err := job.Write(files.Out{Name: *to, Content: sheet.Write}); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s: %s, notes: %d\n", *to, sheet.Title(), len(sheet.Notes))
	return err
}

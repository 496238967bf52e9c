package main

import (
	"flag"
	"fmt"
	"io"

	"threeply/proof/label"
	"threeply/proof/process"
	"threeply/tools/files"
)

// processSheet writes the sheet that a print is made by.
func processSheet(args []string, out io.Writer) error {
	f := flag.NewFlagSet("process", flag.ContinueOnError)
	saved := f.String("session", "", "the session that the page saved")
	to := f.String("o", "", "the .html file to write")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply process -session FILE -o FILE.html\n\nWrites the process sheet of a print, to be printed on A4 or Letter: exposures, the dry\nand the wet side of each layer on leaves of their own, transfers, materials, hazards.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := noFiles(f); err != nil {
		return err
	}
	switch {
	case *saved == "":
		return usageError("-session is missing: name the session that the page saved")
	case *to == "":
		return usageError("-o is missing: name the .html file to write")
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan([]string{*to}, *saved); err != nil {
		return err
	}
	kept, err := readSaved(job, *saved)
	if err != nil {
		return err
	}
	sheet, err := process.Of(&kept.state, label.Now())
	if err != nil {
		return fmt.Errorf("%s: %w", *saved, err)
	}
	if err := job.Write(files.Out{Name: *to, Content: sheet.Write}); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "wrote %s\n", *to)
	return err
}

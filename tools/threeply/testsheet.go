package main

import (
	"flag"
	"fmt"
	"io"
	"path/filepath"

	"threeply/proof/command"
	"threeply/proof/export"
	"threeply/proof/fit"
	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/setter"
	"threeply/proof/testplan"
	"threeply/proof/testsheet"
	"threeply/tools/files"
)

// The files of a test sheet beside its negatives.
const (
	planName     = "test-sheet.json"
	planPage     = "test-sheet.html"
	readingsName = "readings.csv"
	seenName     = "seen.csv"
)

// testSheet writes the test sheet of a palette.
func testSheet(args []string, out, warn io.Writer) error {
	f := flag.NewFlagSet("testsheet", flag.ContinueOnError)
	palette := f.String("palette", "", "id of the palette, or a palette file (default "+session.New().Palette+")")
	setup := addSetup(f)
	dir := f.String("o", "", "the folder to write negatives, plan and table to; without it only the patches are told")
	asJSON := f.Bool("json", false, "print the patches as JSON")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply testsheet [-palette ID|FILE] [-o FOLDER] [-json] [options]\n\nLays out the sheet that a workshop prints of its own tissues and measures: wedges,\noverprints and greys, 120 patches at most. Writes its three printing negatives, its\nplan as a page and as JSON, and tables for the readings of a densitometer and for what\nthe eye sees. The sheet needs no measured tissue. “threeply fit” reads what was measured.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := noFiles(f); err != nil {
		return err
	}
	for _, name := range []string{"width", "trim", "no-marks", "screen", "dot-gain", "keep-offsets", "allowance"} {
		if setup.given(name) {
			return usageError("-" + name + " is for negatives of pictures; a test sheet has a size and marks of its own")
		}
	}
	names := [7]string{}
	negatives := negativeNames(*dir)
	copy(names[:], negatives[:])
	for i, name := range []string{planName, planPage, readingsName, seenName} {
		names[3+i] = filepath.Join(*dir, name)
	}
	job := &files.Job{Overwrite: *overwrite}
	reading := setup.files()
	if namesFile(*palette) {
		reading = append(reading, *palette)
	}
	if *dir != "" {
		if err := job.Plan(names[:], reading...); err != nil {
			return err
		}
	}
	p, err := paletteNamed(job, *palette)
	if err != nil {
		return err
	}
	history := command.NewHistory(session.New())
	if err := setup.apply(job, history); err != nil {
		return err
	}
	sheet := testsheet.Of(p)
	if *dir != "" {
		if err := writeTestSheet(job, sheet, p, &history.State, *dir, names, warn); err != nil {
			return err
		}
	}
	if *asJSON {
		return writeJSON(out, sheet)
	}
	if *dir == "" {
		return tellTestSheet(out, sheet)
	}
	for _, name := range names {
		fmt.Fprintf(out, "wrote %s\n", name)
	}
	return nil
}

// paletteNamed is the palette of an id or in a file; of no name, a new session's.
func paletteNamed(in *files.Job, name string) (pigment.Palette, error) {
	if namesFile(name) {
		text, err := in.Read(name)
		if err != nil {
			return pigment.Palette{}, err
		}
		p, err := pigment.Read(text)
		if err != nil {
			return p, fmt.Errorf("%s, %w", name, err)
		}
		return p, nil
	}
	if name == "" {
		name = session.New().Palette
	}
	p, ok := pigment.PaletteByID(name)
	if !ok {
		return p, usageError(fmt.Sprintf("no palette “%s”: give one of %s, or a palette file", name, paletteIDs(pigment.Palettes())))
	}
	return p, nil
}

// writeTestSheet writes all files of a sheet, all or none.
func writeTestSheet(job *files.Job, sheet testsheet.Sheet, p pigment.Palette, s *session.State, dir string, names [7]string, warn io.Writer) error {
	made := label.Now()
	negatives, err := setter.NewTest(sheet, p, s.Setup(), s.Transfer(), made)
	if err != nil {
		return err
	}
	text, err := sheet.File(p, made.Tool, made.Time())
	if err != nil {
		return err
	}
	if err := files.MakeFolder(dir); err != nil {
		return err
	}
	var outs []files.Out
	for _, printer := range pigment.Printers() {
		outs = append(outs, files.Out{Name: names[printer], Content: func(w io.Writer) error {
			t, err := negatives.TIFF(printer)
			if err != nil {
				return err
			}
			return t.Write(w)
		}})
	}
	outs = append(outs,
		files.Out{Name: names[3], Content: files.Bytes(text)},
		files.Out{Name: names[4], Content: testplan.Of(sheet, p, negatives.Lies(), negatives.Notes, made).Write},
		files.Out{Name: names[5], Content: files.Bytes(testplan.Table(sheet, p, made))},
		files.Out{Name: names[6], Content: files.Bytes(fit.SeenTable(testplan.Remark(sheet, p, made)))})
	if err := job.Write(outs...); err != nil {
		return err
	}
	for _, note := range append(negatives.Notes, export.ToxicNotes(p)...) {
		fmt.Fprintf(warn, "threeply testsheet: %s\n", note)
	}
	return nil
}

// tellTestSheet lists the patches.
func tellTestSheet(out io.Writer, sheet testsheet.Sheet) error {
	for _, p := range sheet.Patches {
		fmt.Fprintf(out, "%-4s %-9s %-6s", p.ID, p.Use, p.Ground)
		for i, has := range p.Has {
			if has {
				fmt.Fprintf(out, " %s %+.2f", pigment.Printer(i), p.LogE[i])
			}
		}
		fmt.Fprintln(out)
	}
	_, err := fmt.Fprintf(out, "\nTest sheet %s, %d patches: log10 exposure against each layer's base exposure. “-o FOLDER” writes the negatives.\n", sheet.Code(), len(sheet.Patches))
	return err
}

package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"threeply/proof/command"
	"threeply/proof/fit"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
	"threeply/tools/files"
)

// fitReadings finds the tissues of a palette from the readings of its test sheet.
func fitReadings(args []string, out io.Writer) error {
	f := flag.NewFlagSet("fit", flag.ContinueOnError)
	recipe := addRecipe(f, "tissues, order, paper and surface")
	status := f.String("status", "", "status of densities where the readings do not say it: A, T or E")
	to := f.String("o", "", "the palette file to write")
	id := f.String("id", "", "id of the measured palette (default: that of the palette, then -measured)")
	name := f.String("name", "", "name of the measured palette (default: that of the palette, then measured and the date)")
	ownPaper := f.String("own-paper", "", "also write the bare paper of the sheet to this file, which -paper takes")
	against := f.String("against", "", "earlier measurements of the same tissues, palette files, parted by commas: tell what has drifted since each")
	scanned := addFlatbed(f)
	mend := f.Bool("mend", false, "put readings right that were read upside down, mirrored, or with two rows swapped")
	asJSON := f.Bool("json", false, "print what was found as JSON")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply fit -palette ID|FILE [-json] [-o FILE.json] [options] READINGS...\n       threeply fit -palette ID|FILE -scan SHEET.tif -target REFERENCE.txt [options] [PLAN]\n\nFinds absorption, scattering and curve of each tissue from the readings of its test\nsheet (“threeply testsheet”), and predicts the overprints that were held out. Readings\nare CGATS text with spectra, Lab or XYZ, or a table of densities; several files, or\nseveral readings of a patch, are repeats. Without an instrument: the table seen.csv,\nfilled in by eye. Or a scan of the sheet with a colour target on it: -scan and -target,\nand -target-at where the target is not found. Where the sheet was not that of the palette\nas it is now, name its plan, test-sheet.json, among them.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := scanned.check(f.NArg()); err != nil {
		return err
	}
	job := &files.Job{Overwrite: *overwrite}
	reading := append(append(recipe.files(), f.Args()...), scanned.files()...)
	earlier := strings.FieldsFunc(*against, func(r rune) bool { return r == ',' })
	reading = append(reading, earlier...)
	var makes []string
	for _, name := range []string{*to, *ownPaper} {
		if name != "" {
			makes = append(makes, name)
		}
	}
	if err := job.Plan(makes, reading...); err != nil {
		return err
	}
	s, err := recipe.session(job)
	if err != nil {
		return err
	}
	history := command.NewHistory(s)
	if err := recipe.apply(job, history); err != nil {
		return err
	}
	r, _, err := picture.Recipe(&history.State)
	if err != nil {
		return err
	}
	given, err := gather(job, r.Palette, f.Args(), scanned.given())
	if err != nil {
		return err
	}
	sheet, texts := given.Sheet, given.Readings
	var before []pigment.Palette
	for _, name := range earlier {
		p, err := paletteNamed(job, name)
		if err != nil {
			return err
		}
		if p.Measured == nil {
			return fmt.Errorf("%s: this palette was not measured; name one that “threeply fit” wrote", name)
		}
		before = append(before, p)
	}
	var found *fit.Result
	if scanned.given() {
		found, err = scanned.fit(job, sheet, r)
	} else {
		found, err = fitTexts(sheet, texts, r, *status, *mend)
	}
	if err != nil {
		return err
	}
	found.Sentence = given.Say + found.Sentence
	found.Compare(before, found.MeasuredPalette(r.Palette, pigment.Measurement{}, time.Now()), history.State.BaseExposures())
	if len(found.Drift) < len(before) {
		return fmt.Errorf("-against %s: no tissue there is of the same pigments and has a curve to compare with", *against)
	}
	var outs []files.Out
	if *to != "" {
		p, err := measuredPalette(found, r, *id, *name, pigment.Measurement{Paper: r.Paper.Name, Finish: history.Finish, Sheets: max(len(texts), 1)})
		if err != nil {
			return err
		}
		text, err := p.Write()
		if err != nil {
			return usageError(err.Error())
		}
		outs = append(outs, files.Out{Name: *to, Content: files.Bytes(text)})
	}
	if *ownPaper != "" {
		outs = append(outs, files.Out{Name: *ownPaper, Content: files.Bytes(found.Paper())})
	}
	if err := job.Write(outs...); err != nil {
		return err
	}
	if *asJSON {
		return writeJSON(out, found)
	}
	for _, name := range makes {
		fmt.Fprintf(out, "wrote %s\n", name)
	}
	return tellFit(out, found)
}

// fitTexts finds the tissues from what was read of a sheet, or seen of it by eye.
func fitTexts(sheet testsheet.Sheet, texts []fit.File, r stack.Recipe, status string, mend bool) (*fit.Result, error) {
	seen, err := fit.SeenAmong(texts)
	if err != nil {
		return nil, err
	}
	if seen != nil {
		found, err := fit.BySight(sheet, *seen, r)
		if err != nil {
			return nil, fmt.Errorf("%s, %w", texts[0].Name, err)
		}
		return found, nil
	}
	readings, err := fit.Take(&sheet, strings.ToUpper(status), texts...)
	if err != nil {
		return nil, err
	}
	right := func(wrong *fit.Misread) error {
		if !mend {
			return fmt.Errorf("%s: the readings agree much better with the sheet read %s; read it again, or say -mend and they are put right", texts[0].Name, wrong.Words)
		}
		readings.Mend(wrong)
		return nil
	}
	if wrong := readings.Misread(&sheet, r); wrong != nil {
		if err := right(wrong); err != nil {
			return nil, err
		}
	}
	job := fit.Job{Sheet: sheet, Readings: readings, Recipe: r}
	found, err := fit.Of(context.Background(), job)
	if err != nil || found.Misread() == nil {
		return found, err
	}
	if err := right(found.Misread()); err != nil { // as only the fit shows
		return nil, err
	}
	return fit.Of(context.Background(), job)
}

// gather reads the files that are named: a plan among them is the sheet's, else the sheet is
// the palette's. Where a scan is given they can be nothing but a plan.
func gather(job *files.Job, p pigment.Palette, names []string, planOnly bool) (fit.Gathered, error) {
	var texts []fit.File
	for _, name := range names {
		text, err := job.Read(name)
		if err != nil {
			return fit.Gathered{}, err
		}
		texts = append(texts, fit.File{Name: name, Text: text})
	}
	given, err := fit.Gather(testsheet.Of(p), nil, texts)
	if planOnly && err == nil && len(given.Readings) > 0 {
		err = fmt.Errorf("%s is no plan of a test sheet; with -scan give nothing else but the plan", given.Readings[0].Name)
	}
	return given, err
}

// measuredPalette is what was found, as a palette of the user's own.
func measuredPalette(found *fit.Result, r stack.Recipe, id, name string, how pigment.Measurement) (pigment.Palette, error) {
	p := found.MeasuredPalette(r.Palette, how, time.Now())
	if id != "" {
		p.ID = id
	}
	if name != "" {
		p.Name = name
	}
	if _, built := pigment.PaletteByID(p.ID); built {
		return p, usageError(fmt.Sprintf("“%s” is the id of a built-in palette; give yours another with -id", p.ID))
	}
	return p, nil
}

// tellFit says what was found.
func tellFit(out io.Writer, r *fit.Result) error {
	fmt.Fprintf(out, "\n%s\n\n", r.Sentence)
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	if len(r.Patches) > 0 {
		fmt.Fprintln(w, "\tPATCHES\tMEAN ΔE00\t95 OF 100\tLARGEST")
		fmt.Fprintf(w, "held out\t%d\t%.2f\t%.2f\t%.2f\n", r.HeldOut.N, r.HeldOut.Mean, r.HeldOut.P95, r.HeldOut.Max)
		fmt.Fprintf(w, "fitted\t%d\t%.2f\t%.2f\t%.2f\n\n", r.Fitted.N, r.Fitted.Mean, r.Fitted.P95, r.Fitted.Max)
	}
	fmt.Fprintln(w, "LAYER\tLOAD\tSCATTERING\tBEGINS AT\tLEAST LEFT")
	for _, p := range pigment.Printers() {
		l := r.Layers[p.String()]
		fmt.Fprintf(w, "%s\t%.2f\t× %.2f\t%+.2f\t%.0f %%\n", p, l.Load, l.Scatter, l.Threshold, 100*l.HoldOn)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if words := r.RatioWords(); words != "" {
		fmt.Fprintf(out, "\n%s\n", words)
	}
	var drifted []string
	for _, d := range r.Drift {
		drifted = append(drifted, d.Words())
	}
	worst := slices.Clone(r.Patches)
	slices.SortFunc(worst, func(a, b fit.Patch) int { return cmp.Compare(b.DE00, a.DE00) })
	var named []string
	for _, p := range worst[:min(len(worst), 5)] {
		named = append(named, fmt.Sprintf("%s %.1f", p.ID, p.DE00))
	}
	if len(named) > 0 {
		fmt.Fprintf(out, "\nFarthest off: %s.\n", strings.Join(named, ", "))
	}
	for _, part := range []struct {
		head  string
		lines []string
	}{{"Drifted:", drifted}, {"Left out:", r.LeftOut}, {"Not told by the readings, left as assumed:", r.LeftAtPrior}, {"", r.Notes}} {
		if len(part.lines) == 0 {
			continue
		}
		fmt.Fprintf(out, "\n%s\n", part.head)
		for _, line := range part.lines {
			fmt.Fprintf(out, "  %s\n", line)
		}
	}
	return nil
}

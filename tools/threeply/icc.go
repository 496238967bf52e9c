package main

import (
	"flag"
	"fmt"
	"io"
	"time"

	"threeply/proof/command"
	"threeply/proof/icc"
	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/session"
	"threeply/tools/files"
)

// profile writes a recipe as an ICC output profile.
func profile(args []string, out io.Writer) error {
	f := flag.NewFlagSet("icc", flag.ContinueOnError)
	recipe := addRecipe(f, "tissues, order, paper, surface, light and thickest layer")
	limits, _ := session.RangeAt("limit")
	limit := f.Float64("limit", 0, fmt.Sprintf("thickest layer allowed, which 100 %% stands for: 1 for the whole coat, %g to %g (default %g, or the saved session's)",
		limits.Low, limits.High, session.New().Limit))
	to := f.String("o", "", "the .icc file to write")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply icc -palette ID|FILE -o FILE [options]\n       threeply icc -session FILE -o FILE [options]\n\nWrites the recipe as an ICC output profile, with which any program that reads\nICC profiles can proof it. Its device colours C, M, Y are the thickness of each\nlayer, 100 % the thickest allowed, not dot areas; the profile's name says how thick\nthat is. It is an estimate from approximate built-in spectra, like every proof here.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if f.NArg() > 0 {
		return usageError(fmt.Sprintf("reads no files, but got “%s”; the profile's own name goes after -o", f.Arg(0)))
	}
	if *to == "" {
		return usageError("-o is missing: name the .icc file to write")
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan([]string{*to}, recipe.files()...); err != nil {
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
	if *limit != 0 {
		if err := history.Do(command.Limit{Value: *limit}, ""); err != nil {
			return usageError(err.Error())
		}
	}
	r, l, err := picture.Recipe(&history.State)
	if err != nil {
		return err
	}
	name := icc.Title(r, l, history.Limit)
	content := icc.Output(r, l, history.Limit, name, label.Tool(), time.Now(), nil)
	if err := job.Write(files.Out{Name: *to, Content: files.Bytes(content)}); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s: %s\n", *to, name)
	return err
}

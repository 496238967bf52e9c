package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"threeply/proof/command"
	"threeply/proof/export"
	"threeply/proof/intake"
	"threeply/proof/plate"
	"threeply/proof/registration"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/tools/files"
)

// proof renders the print of three plates.
func proof(args []string, out io.Writer) error {
	f := flag.NewFlagSet("proof", flag.ContinueOnError)
	opened, level := addOpening(f), addLevels(f)
	recipe := addRecipe(f, "plates' roles, register, offsets, tissues and light")
	reference := f.Bool("reference", false, "render the registered plates as added light instead of the print")
	masked := f.Bool("masked", false, "print through masks that correct the plates, not straight")
	space := f.String("space", "srgb", "colour space of the file: srgb, or p3 for Display P3")
	to := f.String("o", "proof.png", "the file to write: .png of 8 bits a channel, .tif or .tiff of 16")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply proof [options] FILE...\n\nRegisters the plates and renders the likely print at the green plate's size.\nFiles: the red, green and blue plate, or one tall or colour file. What is written\ncarries its colour profile, the resolution of the print's width, and in words what\nit is and what it rests on. White, black and contrast of the plates come from greys\nof the scene (-neutral, -scale), else from an assumption on its light.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	want, err := level.read()
	if err != nil {
		return err
	}
	as, err := formOf(*to)
	if err != nil {
		return err
	}
	in, err := export.SpaceOf(*space)
	if err != nil {
		return usageError(err.Error())
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan([]string{*to}, append(recipe.files(), f.Args()...)...); err != nil {
		return err
	}
	set, err := openPlates(job, opened, f.Args())
	if err != nil {
		return err
	}
	notes := asGiven(set)
	s := intake.Begin(set)
	if *recipe.saved != "" {
		if s, err = sessionFor(job, *recipe.saved, set); err != nil {
			return err
		}
	}
	history := command.NewHistory(s)
	if err := recipe.lay(job, history); err != nil {
		return err
	}
	if *masked {
		if err := history.Do(command.Masked{On: true}, ""); err != nil {
			return usageError(err.Error())
		}
	}
	fresh := history.Registered != "auto"
	if fresh {
		found, err := registration.Register(context.Background(), &history.State, set.Density, nil)
		if err != nil {
			return err
		}
		if err := history.Do(found.Command(), ""); err != nil {
			return err
		}
	}
	if want.by != "" || fresh && !history.Neutral.ByUser() {
		rests, err := want.find(&history.State, set.Density)
		if err != nil {
			return err
		}
		if err := history.Do(command.Films(rests.Levels), ""); err != nil {
			return err
		}
		notes = append(notes, rests.words()...)
	}
	look := render.Print
	if *reference {
		look = render.Reference
	}
	p, err := export.NewProof(&history.State, set.Density, look, in)
	if err != nil {
		return err
	}
	if err := job.Write(files.Out{Name: *to, Content: func(w io.Writer) error { return as(p, w) }}); err != nil {
		return err
	}
	w, h := history.Frame()
	_, err = fmt.Fprintf(out, "%s: %d × %d, %s. %s\n%s\n%s", *to, w, h, in.Name, p.About(), verdict.Of(&history.State).Sentence, lines(notes))
	return err
}

// sessionFor reads a saved session and puts the set's plates in its order: by
// the names of their files, wherever those lie.
func sessionFor(in *files.Job, name string, set *plate.Set) (session.State, error) {
	s, err := sessionNamed(in, name)
	if err != nil {
		return session.State{}, err
	}
	given := set.Sources
	planes := set.Density
	for i, src := range s.Sources {
		at := slices.IndexFunc(given[:], func(g plate.Source) bool {
			return filepath.Base(g.Name) == filepath.Base(src.File) && g.W == src.W && g.H == src.H
		})
		if at < 0 {
			return session.State{}, fmt.Errorf("%s belongs to other plates: none of the files is its %s with %d × %d pixels; name the session's own scans", name, src.File, src.W, src.H)
		}
		set.Density[i] = planes[at]
	}
	return s, nil
}

// formOf is how a proof is written to a file of that name.
func formOf(name string) (func(p *export.Proof, w io.Writer) error, error) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".png":
		return (*export.Proof).WritePNG, nil
	case ".tif", ".tiff":
		return (*export.Proof).WriteTIFF, nil
	}
	return nil, usageError(fmt.Sprintf("-o %s: a proof is written as .png, .tif or .tiff; give the name one of these endings", name))
}

package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"threeply/proof/command"
	"threeply/proof/export"
	"threeply/proof/intake"
	"threeply/proof/label"
	"threeply/proof/place"
	"threeply/proof/plate"
	"threeply/proof/registration"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/tools/files"
)

// proof renders the print of three plates.
func proof(args []string, out, warn io.Writer) error {
	f := flag.NewFlagSet("proof", flag.ContinueOnError)
	opening, level := addOpening(f), addLevels(f)
	recipe := addRecipe(f, "plates' roles, register, offsets, tissues and light")
	reference := f.Bool("reference", false, "render the registered plates as added light instead of the print")
	way := addWay(f)
	shown := addShown(f)
	dots := f.Float64("screen", 0, "render the print of screened negatives with dots of so many µm; 0: of continuous ones")
	crop := f.Bool("crop", false, "trim it to the picture that all three plates hold within their borders; without, the pixels are those of the green plate")
	margin := f.Bool("margin", false, "lay it on a white margin with its title, what it is, and that it is an estimate")
	spaceID := f.String("space", "srgb", "colour space of the file: srgb, or p3 for Display P3")
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
	write, err := formOf(*to)
	if err != nil {
		return err
	}
	if err := shown.check(*reference, *dots > 0); err != nil {
		return err
	}
	space, err := export.SpaceOf(*spaceID)
	if err != nil {
		return usageError(err.Error())
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan([]string{*to}, append(recipe.files(), f.Args()...)...); err != nil {
		return err
	}
	set, s, notes, err := openWork(job, opening, *recipe.saved, f.Args(), func(note string) { fmt.Fprintf(warn, "threeply proof: %s\n", note) })
	if err != nil {
		return err
	}
	history := command.NewHistory(s)
	if err := recipe.apply(job, history); err != nil {
		return err
	}
	if err := way.apply(history); err != nil {
		return err
	}
	if err := shown.apply(history); err != nil {
		return err
	}
	if *dots != 0 {
		fine := math.Ceil(25400 / max(*dots, 1))
		if err := history.Do(command.Negatives{Screen: dots, PPI: &fine}, ""); err != nil {
			return usageError(err.Error())
		}
	}
	rests, err := settle(history, set, want)
	if err != nil {
		return err
	}
	notes = append(notes, rests...)
	kind := render.Print
	if *reference {
		kind = render.Reference
	}
	ready := func() (*export.Proof, error) {
		if shown.faded() {
			return export.NewFadedProof(&history.State, set.Density, history.OnShow(), !*shown.least, space, label.Now())
		}
		if *dots > 0 && !*reference {
			return export.NewDotProof(&history.State, set.Density, space, label.Now())
		}
		return export.NewProof(&history.State, set.Density, kind, space, label.Now())
	}
	p, err := ready()
	if err != nil {
		return err
	}
	if *crop {
		p.Crop(&history.State, set.Density)
	}
	if *margin {
		if err := p.Mount(); err != nil {
			return err
		}
	}
	if err := job.Write(files.Out{Name: *to, Content: func(w io.Writer) error { return write(p, w) }}); err != nil {
		return err
	}
	w, h := p.Size()
	_, err = fmt.Fprintf(out, "%s: %d × %d, %s. %s\n%s\n%s", *to, w, h, space.Name, p.About(), verdict.OfScan(&history.State).Sentence, lines(notes))
	return err
}

// openWork opens the plates of a command line, and takes up a saved session on them where
// one is named. notes are for whoever reads what was done, warn takes what was done
// otherwise than the session says.
func openWork(job *files.Job, opening openOptions, savedName string, names []string, warn func(string)) (set *plate.Set, s session.State, notes []string, err error) {
	if savedName == "" {
		if set, err = openPlates(job, opening, names); err != nil {
			return nil, s, nil, err
		}
		notes = asGiven(set)
		return set, intake.Begin(set), notes, nil
	}
	kept, err := readSaved(job, savedName)
	if err != nil {
		return nil, s, nil, err
	}
	set, s, otherwise, err := kept.open(job, opening, names)
	if err != nil {
		return nil, s, nil, err
	}
	for _, note := range otherwise {
		warn(note)
	}
	return set, s, nil, nil
}

// settle registers the plates where they are not registered yet, or only by a session
// that does not know the content of its scans and in which no person laid them; and finds
// what the films rest on as wanted.
func settle(history *command.History, set *plate.Set, want wanted) (notes []string, err error) {
	rests, err := settled(history, set, want)
	if rests != nil {
		notes = rests.words()
	}
	return notes, err
}

// settled does the work of settle; rests is what the films rest on, nil where that was
// known before.
func settled(history *command.History, set *plate.Set, want wanted) (rests *basis, err error) {
	fresh := history.Registered != "auto" || history.Carried && !laidByAPerson(&history.State)
	if fresh {
		found, err := registration.Register(context.Background(), &history.State, set.Density, nil)
		if err != nil {
			return nil, err
		}
		if err := history.Do(found.Command(), ""); err != nil {
			return nil, err
		}
	}
	if want.by != "" || fresh && !history.Neutral.ByUser() {
		found, err := want.find(&history.State, set.Density)
		if err != nil {
			return nil, err
		}
		rests = &found
		if err := history.Do(command.Films(rests.Levels), ""); err != nil {
			return nil, err
		}
	}
	return rests, nil
}

// sessionFor takes up a saved session, kept, for the scans that were opened. Where it
// belongs to these very scans, in whatever order they are named, all of it is taken;
// where its plates were scanned anew since, only its settings. name is the session's
// file. note says where the proof does not follow the session, "" where it does.
func sessionFor(kept session.State, name string, opened session.State) (s session.State, note string, err error) {
	for i := range kept.Sources { // wherever the files lie
		kept.Sources[i].File = filepath.Base(kept.Sources[i].File)
	}
	open := opened.Sources
	for i := range open {
		open[i].File = filepath.Base(open[i].File)
	}
	s, match := session.Belongs(kept, open)
	switch match {
	case session.Other:
		return session.State{}, "", fmt.Errorf("%s belongs to other plates (%s, by name and size or by content); name the session's own scans", name, strings.Join(kept.Files(), ", "))
	case session.OtherContent:
		opened.TakeSettings(kept)
		opened.TakeRecord(kept)
		return opened, "the plates were scanned anew since, so its settings are taken, and they are registered anew; its marks and films are left out", nil
	}
	switch {
	case s.Carried && laidByAPerson(&s):
		note = "it does not know the content of its scans; the plates lie as it says, by hand or by marks, and nobody can judge that"
	case s.Carried:
		note = "it does not know the content of its scans, so the plates are registered anew"
	}
	return s, note, nil
}

// laidByAPerson tells whether a plate lies by hand or by marks.
func laidByAPerson(s *session.State) bool {
	for i := range s.Sources {
		switch place.WayOf(s, i) {
		case place.WayHand, place.WayMarks, place.WayBoth:
			return true
		}
	}
	return false
}

// formOf tells by the ending of a file's name how a proof is written to it.
func formOf(name string) (func(p *export.Proof, w io.Writer) error, error) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".png":
		return (*export.Proof).WritePNG, nil
	case ".tif", ".tiff":
		return (*export.Proof).WriteTIFF, nil
	}
	return nil, usageError(fmt.Sprintf("-o %s: a proof is written as .png, .tif or .tiff; give the name one of these endings", name))
}

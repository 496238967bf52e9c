package main

import (
	"context"
	"flag"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/render"
	"threeply/proof/session"
)

// proof renders the print of three plates.
func proof(args []string, out io.Writer) error {
	f := flag.NewFlagSet("proof", flag.ContinueOnError)
	layout := f.String("layout", "", layoutHelp)
	saved := f.String("session", "", "take plates' roles, register, offsets, tissues and light from a session that the page saved")
	palette := f.String("palette", "", "id of the palette, see “threeply palettes”")
	order := f.String("order", "", "the layers from the paper up, such as ymc")
	paper := f.String("paper", "", "id of the paper")
	finish := f.String("finish", "", "gloss, satin or matt")
	light := f.String("light", "", "id of the light, such as D50")
	reference := f.Bool("reference", false, "render the registered plates as added light instead of the print")
	to := f.String("o", "proof.png", "the PNG to write")
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply proof [options] FILE...\n\nRegisters the plates and renders the likely print at the green plate's size.\nFiles: the red, green and blue plate, or one tall or colour file.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if slices.ContainsFunc(f.Args(), func(scan string) bool { return filepath.Clean(scan) == filepath.Clean(*to) }) {
		return usageError(fmt.Sprintf("-o %s would write over a scan; name another file", *to))
	}
	set, err := openPlates(*layout, f.Args())
	if err != nil {
		return err
	}
	s := picture.Begin(set)
	if *saved != "" {
		if s, err = sessionFor(*saved, set); err != nil {
			return err
		}
	}
	history := session.NewSession(s)
	for _, c := range []session.Command{
		{Do: "palette", ID: *palette}, {Do: "order", Order: *order}, {Do: "paper", ID: *paper},
		{Do: "finish", ID: *finish}, {Do: "light", ID: *light},
	} {
		if c.ID+c.Order == "" {
			continue
		}
		if err := history.Do(c); err != nil {
			return usageError(err.Error())
		}
	}
	if history.Registered != "auto" {
		found, err := picture.Register(context.Background(), &history.State, set.Density, nil)
		if err != nil {
			return err
		}
		if err := history.Do(session.Command{Do: "registered", Found: found.Found}); err != nil {
			return err
		}
	}
	return writeProof(&history.State, set.Density, *reference, *to, out)
}

// sessionFor reads a saved session and puts the set's plates in its order: by
// the names of their files, wherever those lie.
func sessionFor(name string, set *plate.Set) (session.State, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return session.State{}, err
	}
	s, err := session.Read(name, text)
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

func writeProof(s *session.State, planes [3]*plane.Plane, reference bool, to string, out io.Writer) error {
	printing, err := picture.PrepareFor(s, planes)
	if err != nil {
		return err
	}
	look := render.Print
	if reference {
		look = render.Reference
	}
	w, h := s.Frame()
	img := picture.Assemble(s, printing, printing.Curves(s), planes, affine.Identity, 0).Image(look, w, h, nil)
	file, err := os.Create(to)
	if err != nil {
		return err
	}
	defer file.Close()
	if err := png.Encode(file, img); err != nil {
		return err
	}
	if err := file.Close(); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s: %d × %d, %s, layers %s from the paper up, %s\n%s\n", to, w, h, printing.Recipe.Palette.Name, s.Order, printing.Light.Name, s.Misregister().Sentence)
	return nil
}

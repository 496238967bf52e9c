package main

import (
	"flag"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"threeply/proof/command"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/tools/files"
)

// recipeOptions are the options by which a command names tissues, paper and
// light. What is left empty is the session's, or what a new session has.
type recipeOptions struct {
	saved, palette, order, paper, finish, light *string
	wedges                                      *[]wedgeOption
}

// wedgeOption is a step tablet that was printed on a tissue: the text that was read of it,
// and what it was exposed to, in the unit of all wedges, 0 where that is not said.
type wedgeOption struct {
	printer, file string
	exposure      float64
}

// addRecipe gives a command the options. fromSession says what it takes of a saved
// session.
func addRecipe(f *flag.FlagSet, fromSession string) recipeOptions {
	begin := session.New()
	var wedges []wedgeOption
	f.Func("wedge", "`PRINTER=FILE`, or PRINTER=FILE@EXPOSURE, a step tablet printed on that tissue, for each tissue that has one: a step a line, the tablet's density and the print's through the status A filter of the layer, zero on bare paper", func(text string) error {
		w, err := readWedgeOption(text)
		wedges = append(wedges, w)
		return err
	})
	return recipeOptions{
		wedges:  &wedges,
		saved:   f.String("session", "", "take "+fromSession+" from a session that the page saved; what is given besides takes its place"),
		palette: f.String("palette", "", "id of the palette, see “threeply palettes”, or a palette file"),
		order:   f.String("order", "", "the layers from the paper up, such as ymc (default "+begin.Order+")"),
		paper:   f.String("paper", "", "id of the paper: "+paperIDs(stack.Papers())+", or a file with its reflectance: lines of nm and 0 to 1 (default "+begin.Paper+")"),
		finish:  f.String("finish", "", "gloss, satin or matt (default "+begin.Finish+")"),
		light:   f.String("light", "", lightHelp()+" (default "+begin.Light+")"),
	}
}

// files lists the files that the options name; an option may name an id instead, or
// nothing.
func (o recipeOptions) files() []string {
	var names []string
	if *o.saved != "" {
		names = append(names, *o.saved)
	}
	for _, w := range *o.wedges {
		names = append(names, w.file)
	}
	for _, name := range []string{*o.palette, *o.paper} {
		if namesFile(name) {
			names = append(names, name)
		}
	}
	return names
}

// session reads the saved session. Where none is named it begins one, and -palette must
// be given.
func (o recipeOptions) session(in *files.Job) (session.State, error) {
	switch {
	case *o.saved != "":
		return sessionNamed(in, *o.saved)
	case *o.palette == "":
		return session.State{}, usageError("-palette is missing: give one of " + paletteIDs(pigment.Palettes()) + ", a palette file, or -session")
	}
	return session.New(), nil
}

// apply gives a session the tissues, paper and light that the options name.
func (o recipeOptions) apply(in *files.Job, s *command.History) error {
	palette, paper := *o.palette, *o.paper
	if err := takeOwn(in, s, &palette, &paper); err != nil {
		return err
	}
	if err := checkKnown(s, palette, paper, *o.finish, *o.light); err != nil {
		return err
	}
	for _, c := range []struct {
		given string
		command.Command
	}{
		{palette, command.Palette{ID: palette}}, {*o.order, command.Order{Order: *o.order}}, {paper, command.Paper{ID: paper}},
		{*o.finish, command.Finish{ID: *o.finish}}, {*o.light, command.Light{ID: *o.light}},
	} {
		if c.given == "" {
			continue
		}
		if err := s.Do(c.Command, ""); err != nil {
			return usageError(err.Error())
		}
	}
	for _, w := range *o.wedges {
		table, err := in.Read(w.file)
		if err != nil {
			return err
		}
		if err := s.Do(command.Wedge{Printer: w.printer, Table: string(table), Exposure: w.exposure}, ""); err != nil {
			return fmt.Errorf("%s: %w", w.file, err)
		}
	}
	return nil
}

// readWedgeOption reads PRINTER=FILE or PRINTER=FILE@EXPOSURE.
func readWedgeOption(text string) (wedgeOption, error) {
	printer, file, ok := strings.Cut(text, "=")
	if !ok || file == "" || !slices.Contains([]string{"yellow", "magenta", "cyan"}, printer) {
		return wedgeOption{}, fmt.Errorf("%q names no wedge: give yellow=FILE, magenta=FILE or cyan=FILE", text)
	}
	w := wedgeOption{printer: printer, file: file}
	if i := strings.LastIndex(file, "@"); i > 0 {
		if v, err := strconv.ParseFloat(file[i+1:], 64); err == nil && v > 0 {
			w.file, w.exposure = file[:i], v
		}
	}
	return w, nil
}

// read gives the recipe and the light that the options name, for a command that
// writes no files.
func (o recipeOptions) read() (stack.Recipe, spectrum.Light, error) {
	job := &files.Job{}
	s, err := o.session(job)
	if err != nil {
		return stack.Recipe{}, spectrum.Light{}, err
	}
	history := command.NewHistory(s)
	if err := o.apply(job, history); err != nil {
		return stack.Recipe{}, spectrum.Light{}, err
	}
	return picture.Recipe(&history.State)
}

// checkKnown refuses an id of something that is neither built in nor the session's own,
// and says what there is. An empty id is right: what the session has stays.
func checkKnown(s *command.History, palette, paper, finish, light string) error {
	if _, ok := s.PaletteByID(palette); palette != "" && !ok {
		return usageError(fmt.Sprintf("no palette “%s”: give one of %s, or a palette file", palette, paletteIDs(s.Palettes())))
	}
	if _, ok := s.PaperByID(paper); paper != "" && !ok {
		return usageError(fmt.Sprintf("no paper “%s”: give one of %s, or a spectrum file", paper, paperIDs(s.Papers())))
	}
	if _, ok := stack.FinishByID(finish); finish != "" && !ok {
		return usageError(fmt.Sprintf("no finish “%s”: give gloss, satin or matt", finish))
	}
	if _, ok := spectrum.LightByID(light); light != "" && !ok {
		return usageError(fmt.Sprintf("no light “%s”: give the %s", light, lightHelp()))
	}
	return nil
}

// takeOwn reads a palette or a paper that is named by its file, gives it to the session,
// which then uses it, and empties the name.
func takeOwn(in *files.Job, s *command.History, palette, paper *string) error {
	if name := *palette; namesFile(name) {
		text, err := in.Read(name)
		if err != nil {
			return err
		}
		p, err := pigment.Read(text)
		if err != nil {
			return fmt.Errorf("%s, %w", name, err)
		}
		if err := s.Do(command.TakePalette{Palette: p}, ""); err != nil {
			return err
		}
		*palette = ""
	}
	if name := *paper; namesFile(name) {
		text, err := in.Read(name)
		if err != nil {
			return err
		}
		p, err := stack.PaperFromSpectrum("own", filepath.Base(name), text)
		if err != nil {
			return fmt.Errorf("%s, %w", name, err)
		}
		if err := s.Do(command.TakePaper{Paper: p}, ""); err != nil {
			return err
		}
		*paper = ""
	}
	return nil
}

// namesFile tells a file's name from an id: it has an ending or a folder.
func namesFile(name string) bool {
	return strings.ContainsAny(name, `./\`)
}

// sessionNamed reads the settings of a session that was saved.
func sessionNamed(in *files.Job, name string) (session.State, error) {
	k, err := readSaved(in, name)
	return k.state, err
}

// lightHelp says what the lights' ids are.
func lightHelp() string {
	ids := listed(spectrum.Lights(), func(l spectrum.Light) string { return l.ID })
	return fmt.Sprintf("id of the light: %s, or a colour temperature such as 3000K, %d to %d", ids, spectrum.CoolestLight, spectrum.HottestLight)
}

func paletteIDs(palettes []pigment.Palette) string {
	return listed(palettes, func(p pigment.Palette) string { return p.ID })
}

func paperIDs(papers []stack.Paper) string {
	return listed(papers, func(p stack.Paper) string { return p.ID })
}

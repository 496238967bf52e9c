package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"threeply/proof/command"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/tools/files"
)

// paletteNamed returns the built-in palette of an id, or reads the palette file
// of that name.
func paletteNamed(in *files.Job, name string) (pigment.Palette, error) {
	if name == "" {
		return pigment.Palette{}, usageError("-palette is missing: give one of " + paletteIDs(pigment.Palettes()) + ", or a palette file")
	}
	if p, ok := pigment.PaletteByID(name); ok {
		return p, nil
	}
	if !namesFile(name) {
		return pigment.Palette{}, usageError(fmt.Sprintf("no palette “%s”: give one of %s, or a palette file", name, paletteIDs(pigment.Palettes())))
	}
	text, err := in.Read(name)
	if err != nil {
		return pigment.Palette{}, err
	}
	p, err := pigment.Read(text)
	if err != nil {
		return pigment.Palette{}, fmt.Errorf("%s, %w", name, err)
	}
	return p, nil
}

// paperNamed returns the built-in paper of an id, or makes one of the spectrum
// file of that name.
func paperNamed(in *files.Job, name string) (stack.Paper, error) {
	if p, ok := stack.PaperByID(name); ok {
		return p, nil
	}
	if !namesFile(name) {
		return stack.Paper{}, usageError(fmt.Sprintf("no paper “%s”: give one of %s, or a spectrum file", name, paperIDs(stack.Papers())))
	}
	text, err := in.Read(name)
	if err != nil {
		return stack.Paper{}, err
	}
	p, err := stack.PaperFromSpectrum("own", filepath.Base(name), text)
	if err != nil {
		return stack.Paper{}, fmt.Errorf("%s, %w", name, err)
	}
	return p, nil
}

// change lays tissues, paper and light of a session as the options name them;
// empty ones keep what the session has.
func change(in *files.Job, s *command.History, palette, order, paper, finish, light string) error {
	if err := takeOwn(in, s, &palette, &paper); err != nil {
		return err
	}
	if err := known(s, palette, paper, finish, light); err != nil {
		return err
	}
	for _, c := range []struct {
		given string
		command.Command
	}{
		{palette, command.Palette{ID: palette}}, {order, command.Order{Order: order}}, {paper, command.Paper{ID: paper}},
		{finish, command.Finish{ID: finish}}, {light, command.Light{ID: light}},
	} {
		if c.given == "" {
			continue
		}
		if err := s.Do(c.Command, ""); err != nil {
			return usageError(err.Error())
		}
	}
	return nil
}

// known refuses an id that names nothing that is built in or belongs to the
// session, and says what there is; an empty one keeps what the session has.
func known(s *command.History, palette, paper, finish, light string) error {
	if _, ok := s.PaletteByID(palette); palette != "" && !ok {
		return usageError(fmt.Sprintf("no palette “%s”: give one of %s, or a palette file", palette, paletteIDs(s.Palettes())))
	}
	if _, ok := s.PaperByID(paper); paper != "" && !ok {
		return usageError(fmt.Sprintf("no paper “%s”: give one of %s, or a spectrum file", paper, paperIDs(s.Papers())))
	}
	if _, ok := stack.FinishByID(finish); finish != "" && !ok {
		return usageError(noFinish(finish))
	}
	if _, ok := spectrum.LightByID(light); light != "" && !ok {
		return usageError(noLight(light))
	}
	return nil
}

// takeOwn takes a palette or a paper that is named by its file into the session,
// and empties its name.
func takeOwn(in *files.Job, s *command.History, palette, paper *string) error {
	if namesFile(*palette) {
		p, err := paletteNamed(in, *palette)
		if err != nil {
			return err
		}
		if err := s.Do(command.TakePalette{Palette: p}, ""); err != nil {
			return err
		}
		*palette = ""
	}
	if namesFile(*paper) {
		p, err := paperNamed(in, *paper)
		if err != nil {
			return err
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

// recipeFiles lists the files that these options name; the others name ids, or
// nothing.
func recipeFiles(saved, palette, paper string) []string {
	names := slices.DeleteFunc([]string{palette, paper}, func(name string) bool { return !namesFile(name) })
	if saved != "" {
		names = append(names, saved)
	}
	return names
}

// sessionNamed reads a session that the page saved.
func sessionNamed(in *files.Job, name string) (session.State, error) {
	text, err := in.Read(name)
	if err != nil {
		return session.State{}, err
	}
	return session.Read(name, bytes.TrimPrefix(text, []byte("\ufeff")))
}

// lightHelp says what the lights' ids are.
func lightHelp() string {
	return fmt.Sprintf("id of the light: %s, or a colour temperature such as 3000K, %d to %d", lightIDs(), spectrum.CoolestLight, spectrum.HottestLight)
}

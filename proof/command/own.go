package command

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/stack"
)

// changeTissue gives a printer of the chosen palette another tissue. A built-in
// palette stays what it is: an own one is begun from it and chosen.
func changeTissue(c Command, s *session.State) error {
	p, err := c.layer()
	if err != nil {
		return err
	}
	if c.Tissue == nil {
		return fmt.Errorf("no %s tissue is given", p)
	}
	palette, ok := s.PaletteByID(s.Palette)
	if !ok {
		return fmt.Errorf("no palette “%s”", s.Palette)
	}
	own := s.OwnPalette(palette.ID)
	if own < 0 {
		palette.ID, palette.Name = freeID(s, "own"), freeName(s, palette.Name+", own")
	}
	t := *c.Tissue
	t.Pigments = slices.Clone(t.Pigments)
	palette = palette.WithLayer(p, t)
	if err := palette.Check(); err != nil {
		return err
	}
	return putPalette(s, own, palette)
}

// takePalette adds a palette, such as one of a file, and chooses it. Where its
// id is another palette's, it gets one of its own.
func takePalette(c Command, s *session.State) error {
	if c.Palette == nil {
		return fmt.Errorf("no palette is given")
	}
	p := *c.Palette
	if err := p.Check(); err != nil {
		return err
	}
	if built, ok := pigment.PaletteByID(p.ID); ok && built.Same(p) {
		s.Palette = p.ID
		return nil
	}
	if _, taken := s.PaletteByID(p.ID); taken {
		p.ID, p.Name = freeID(s, p.ID), freeName(s, p.Name)
	}
	return putPalette(s, -1, p)
}

func putPalette(s *session.State, own int, p pigment.Palette) error {
	s.OwnPalettes = slices.Clone(s.OwnPalettes)
	if own < 0 {
		if len(s.OwnPalettes) >= session.MostOwn {
			return fmt.Errorf("there are %d palettes of your own already: save one as a file and take it away first", session.MostOwn)
		}
		s.OwnPalettes = append(s.OwnPalettes, p)
	} else {
		s.OwnPalettes[own] = p
	}
	s.Palette = p.ID
	return nil
}

func namePalette(c Command, s *session.State) error {
	i := s.OwnPalette(c.ID)
	if i < 0 {
		return fmt.Errorf("“%s” is no palette of your own, so its name stays", c.ID)
	}
	p := s.OwnPalettes[i]
	p.Name = strings.TrimSpace(c.Text)
	if err := p.Check(); err != nil {
		return err
	}
	s.OwnPalettes = slices.Clone(s.OwnPalettes)
	s.OwnPalettes[i] = p
	return nil
}

func dropPalette(c Command, s *session.State) error {
	i := s.OwnPalette(c.ID)
	if i < 0 {
		return fmt.Errorf("“%s” is no palette of your own, so it stays", c.ID)
	}
	s.OwnPalettes = slices.Delete(slices.Clone(s.OwnPalettes), i, i+1)
	if s.Palette == c.ID {
		s.Palette = session.New().Palette
	}
	return nil
}

// takePaper adds a paper of the user's own and chooses it.
func takePaper(c Command, s *session.State) error {
	if c.Paper == nil {
		return fmt.Errorf("no paper is given")
	}
	p := *c.Paper
	p.Name = strings.TrimSpace(p.Name)
	if p.Name = firstLetters(p.Name, pigment.MostLetters); p.Name == "" {
		p.Name = "Own paper"
	}
	for _, q := range s.Papers() {
		if q.Name == p.Name {
			p.Name = freeName(s, p.Name)
		}
	}
	if err := p.Check(); err != nil {
		return fmt.Errorf("the paper “%.80s”: %w", p.Name, err)
	}
	p.ID = freeID(s, "paper")
	if len(s.OwnPapers) >= session.MostOwn {
		return fmt.Errorf("there are %d papers of your own already: take one away first", session.MostOwn)
	}
	s.OwnPapers = append(slices.Clone(s.OwnPapers), p)
	s.Paper = p.ID
	return nil
}

func dropPaper(c Command, s *session.State) error {
	i := s.OwnPaper(c.ID)
	if i < 0 {
		return fmt.Errorf("“%s” is no paper of your own, so it stays", c.ID)
	}
	s.OwnPapers = slices.Delete(slices.Clone(s.OwnPapers), i, i+1)
	if s.Paper == c.ID {
		s.Paper = session.New().Paper
	}
	return nil
}

// freeID returns the first of id-1, id-2 … that no palette and no paper has.
func freeID(s *session.State, id string) string {
	id = id[:min(len(id), 30)]
	for n := 1; ; n++ {
		free := fmt.Sprintf("%s-%d", id, n)
		_, palette := s.PaletteByID(free)
		_, paper := s.PaperByID(free)
		if !palette && !paper {
			return free
		}
	}
}

// freeName returns the first of name, name 2 … that no palette and no paper has.
func freeName(s *session.State, name string) string {
	taken := func(n string) bool {
		return slices.ContainsFunc(s.Palettes(), func(p pigment.Palette) bool { return p.Name == n }) ||
			slices.ContainsFunc(s.Papers(), func(p stack.Paper) bool { return p.Name == n })
	}
	for n := 1; ; n++ {
		free := name
		if n > 1 {
			free = firstLetters(name, pigment.MostLetters-5) + fmt.Sprintf(" %d", n)
		}
		if !taken(free) {
			return free
		}
	}
}

// firstLetters cuts a name to at most so many characters: that of a file can be
// longer than names may be, and a number needs room.
func firstLetters(name string, most int) string {
	letters := []rune(name)
	return string(letters[:min(len(letters), most)])
}

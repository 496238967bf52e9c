package session

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/stack"
)

// mostOwn bounds the palettes and the papers of a session's own, longest the
// characters of their names.
const (
	mostOwn = 40
	longest = pigment.MostLetters
)

// Palettes returns the built-in palettes and then the session's own.
func (s *State) Palettes() []pigment.Palette { return append(pigment.Palettes(), s.OwnPalettes...) }

// PaletteByID returns one of Palettes.
func (s *State) PaletteByID(id string) (pigment.Palette, bool) {
	all := s.Palettes()
	i := slices.IndexFunc(all, func(p pigment.Palette) bool { return p.ID == id })
	if i < 0 {
		return pigment.Palette{}, false
	}
	return all[i], true
}

// Papers returns the built-in papers and then the session's own.
func (s *State) Papers() []stack.Paper { return append(stack.Papers(), s.OwnPapers...) }

// PaperByID returns one of Papers.
func (s *State) PaperByID(id string) (stack.Paper, bool) {
	all := s.Papers()
	i := slices.IndexFunc(all, func(p stack.Paper) bool { return p.ID == id })
	if i < 0 {
		return stack.Paper{}, false
	}
	return all[i], true
}

// Own tells whether a palette or a paper is the session's.
func (s *State) Own(id string) bool {
	return s.ownPalette(id) >= 0 || s.ownPaper(id) >= 0
}

func (s *State) ownPalette(id string) int {
	return slices.IndexFunc(s.OwnPalettes, func(p pigment.Palette) bool { return p.ID == id })
}

func (s *State) ownPaper(id string) int {
	return slices.IndexFunc(s.OwnPapers, func(p stack.Paper) bool { return p.ID == id })
}

// changeTissue gives a printer of the chosen palette another tissue. A built-in
// palette stays what it is: an own one is begun from it and chosen.
func changeTissue(c Command, s *State) error {
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
	own := s.ownPalette(palette.ID)
	if own < 0 {
		palette.ID, palette.Name = s.freeID("own"), s.freeName(palette.Name+", own")
	}
	t := *c.Tissue
	t.Pigments = slices.Clone(t.Pigments)
	palette = palette.WithLayer(p, t)
	if err := palette.Check(); err != nil {
		return err
	}
	return s.putPalette(own, palette)
}

// takePalette adds a palette, such as one of a file, and chooses it. Where its
// id is another palette's, it gets one of its own.
func takePalette(c Command, s *State) error {
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
		p.ID, p.Name = s.freeID(p.ID), s.freeName(p.Name)
	}
	return s.putPalette(-1, p)
}

func (s *State) putPalette(own int, p pigment.Palette) error {
	s.OwnPalettes = slices.Clone(s.OwnPalettes)
	if own < 0 {
		if len(s.OwnPalettes) >= mostOwn {
			return fmt.Errorf("there are %d palettes of your own already: save one as a file and take it away first", mostOwn)
		}
		s.OwnPalettes = append(s.OwnPalettes, p)
	} else {
		s.OwnPalettes[own] = p
	}
	s.Palette = p.ID
	return nil
}

func namePalette(c Command, s *State) error {
	i := s.ownPalette(c.ID)
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

func dropPalette(c Command, s *State) error {
	i := s.ownPalette(c.ID)
	if i < 0 {
		return fmt.Errorf("“%s” is no palette of your own, so it stays", c.ID)
	}
	s.OwnPalettes = slices.Delete(slices.Clone(s.OwnPalettes), i, i+1)
	if s.Palette == c.ID {
		s.Palette = New().Palette
	}
	return nil
}

// takePaper adds a paper of the user's own and chooses it.
func takePaper(c Command, s *State) error {
	if c.Paper == nil {
		return fmt.Errorf("no paper is given")
	}
	p := *c.Paper
	p.Name = strings.TrimSpace(p.Name)
	if p.Name = firstLetters(p.Name, longest); p.Name == "" {
		p.Name = "Own paper"
	}
	for _, q := range s.Papers() {
		if q.Name == p.Name {
			p.Name = s.freeName(p.Name)
		}
	}
	if err := p.Check(); err != nil {
		return fmt.Errorf("the paper “%.80s”: %w", p.Name, err)
	}
	p.ID = s.freeID("paper")
	if len(s.OwnPapers) >= mostOwn {
		return fmt.Errorf("there are %d papers of your own already: take one away first", mostOwn)
	}
	s.OwnPapers = append(slices.Clone(s.OwnPapers), p)
	s.Paper = p.ID
	return nil
}

func dropPaper(c Command, s *State) error {
	i := s.ownPaper(c.ID)
	if i < 0 {
		return fmt.Errorf("“%s” is no paper of your own, so it stays", c.ID)
	}
	s.OwnPapers = slices.Delete(slices.Clone(s.OwnPapers), i, i+1)
	if s.Paper == c.ID {
		s.Paper = New().Paper
	}
	return nil
}

// freeID returns the first of id-1, id-2 … that no palette and no paper has.
func (s *State) freeID(id string) string {
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
func (s *State) freeName(name string) string {
	taken := func(n string) bool {
		return slices.ContainsFunc(s.Palettes(), func(p pigment.Palette) bool { return p.Name == n }) ||
			slices.ContainsFunc(s.Papers(), func(p stack.Paper) bool { return p.Name == n })
	}
	for n := 1; ; n++ {
		free := name
		if n > 1 {
			free = firstLetters(name, longest-5) + fmt.Sprintf(" %d", n)
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

// checkOwn holds the session's own palettes and papers to what stack relies on.
func (s *State) checkOwn() error {
	seen := map[string]bool{}
	for _, p := range s.OwnPalettes {
		if err := p.Check(); err != nil {
			return fmt.Errorf("the palette “%s”: %w", p.Name, err)
		}
		if _, built := pigment.PaletteByID(p.ID); built || seen[p.ID] {
			return fmt.Errorf("two palettes have the id “%s”", p.ID)
		}
		seen[p.ID] = true
	}
	for _, p := range s.OwnPapers {
		if _, built := stack.PaperByID(p.ID); built || seen[p.ID] || p.ID == "" {
			return fmt.Errorf("two papers have the id “%s”, or it has none", p.ID)
		}
		seen[p.ID] = true
		if err := p.Check(); err != nil {
			return fmt.Errorf("the paper “%.80s”: %w", p.Name, err)
		}
	}
	return s.Spread.Check()
}

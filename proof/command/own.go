package command

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/stack"
)

// Tissue gives a printer of the chosen palette another tissue. A built-in palette
// stays what it is: an own one is begun from it and chosen. What was measured of a tissue
// goes along while its pigments stay the same; with From it comes from the palette of that
// id, whose tissue this is.
type Tissue struct {
	Printer string         `json:"printer" like:"printer"`
	Tissue  pigment.Tissue `json:"tissue" like:"own_palettes.yellow"`
	From    string         `json:"from,omitempty"`
}

func (c Tissue) Apply(s *session.State) error {
	p, err := layerOf(c.Printer)
	if err != nil {
		return err
	}
	palette, own, err := ownPalette(s)
	if err != nil {
		return err
	}
	source := palette
	if c.From != "" {
		var ok bool
		if source, ok = s.PaletteByID(c.From); !ok {
			return fmt.Errorf("no palette “%.40s” to take the tissue from", c.From)
		}
	}
	t := c.Tissue
	t.Pigments = slices.Clone(t.Pigments)
	if before := source.Layer(p); slices.Equal(before.Pigments, t.Pigments) {
		t.Measured, t.Faded = cmp.Or(t.Measured, before.Measured), cmp.Or(t.Faded, before.Faded)
	}
	// What its overprints came out as holds for these three tissues alone.
	if now := palette.Layer(p); t.Measured != now.Measured || !slices.Equal(now.Pigments, t.Pigments) {
		palette.Measured = nil
	}
	palette = palette.WithLayer(p, t)
	if err := palette.Check(); err != nil {
		return err
	}
	return putPalette(s, own, palette)
}
func (Tissue) Words() string { return "tissue" }

// ownPalette is the chosen palette as one of the user's own, and its place among them: -1
// for one that is begun from a built-in palette.
func ownPalette(s *session.State) (p pigment.Palette, own int, err error) {
	p, ok := s.PaletteByID(s.Palette)
	if !ok {
		return p, -1, fmt.Errorf("no palette “%s”", s.Palette)
	}
	if own = s.OwnPalette(p.ID); own < 0 {
		const ending = ", own"
		name := firstLetters(p.Name, pigment.MostLetters-len(ending)) + ending
		p.ID, p.Name = freeID(s, "own"), freeName(s, name)
	}
	return p, own, nil
}

// TakePalette adds a palette, such as one of a file, and chooses it. Where another palette
// has its id, it gets a new id and, where that is taken too, a new name.
type TakePalette struct {
	Palette pigment.Palette `json:"palette" like:"own_palettes"`
}

func (c TakePalette) Apply(s *session.State) error {
	p := c.Palette
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
func (TakePalette) Words() string { return "palette" }

// putPalette puts a palette in place of an own one, or, where own is -1, beside them.
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

// NamePalette gives an own palette another name.
type NamePalette struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

func (c NamePalette) Apply(s *session.State) error {
	i := s.OwnPalette(c.ID)
	if i < 0 {
		return fmt.Errorf("“%.40s” is no palette of your own, so its name stays", c.ID)
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
func (NamePalette) Words() string { return "name of the palette" }

// DropPalette takes an own palette away.
type DropPalette struct {
	ID string `json:"id"`
}

func (c DropPalette) Apply(s *session.State) error {
	return dropOwn(&s.OwnPalettes, s.OwnPalette(c.ID), c.ID, &s.Palette, session.New().Palette, "palette")
}
func (DropPalette) Words() string { return "palette" }

// TakePaper adds a paper of the user's own and chooses it. It always gets a new id, and a
// name where it has none or another paper has the same.
type TakePaper struct {
	Paper stack.Paper `json:"paper" like:"own_papers"`
}

func (c TakePaper) Apply(s *session.State) error {
	p := c.Paper
	if p.Name = firstLetters(strings.TrimSpace(p.Name), pigment.MostLetters); p.Name == "" {
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
func (TakePaper) Words() string { return "paper" }

// DropPaper takes a paper of the user's own away.
type DropPaper struct {
	ID string `json:"id"`
}

func (c DropPaper) Apply(s *session.State) error {
	return dropOwn(&s.OwnPapers, s.OwnPaper(c.ID), c.ID, &s.Paper, session.New().Paper, "paper")
}
func (DropPaper) Words() string { return "paper" }

// dropOwn takes what has an id out of a list of the user's own, where it is number i, -1
// where it is not there. Where it was chosen, the usual one is chosen in its place. what
// is the word for it.
func dropOwn[T any](list *[]T, i int, id string, chosen *string, usual, what string) error {
	if i < 0 {
		return fmt.Errorf("“%.40s” is no %s of your own, so it stays", id, what)
	}
	*list = without(*list, i)
	if *chosen == id {
		*chosen = usual
	}
	return nil
}

// without returns a list less one of its members, nil where none is left: so a state
// is the same as one that never had any.
func without[T any](list []T, i int) []T {
	if len(list) == 1 {
		return nil
	}
	return slices.Delete(slices.Clone(list), i, i+1)
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

// firstLetters cuts a name to at most so many characters. The name of a file can be longer
// than names may be, and a number behind it needs room.
func firstLetters(name string, most int) string {
	letters := []rune(name)
	return string(letters[:min(len(letters), most)])
}

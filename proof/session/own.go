package session

import (
	"slices"

	"threeply/proof/pigment"
	"threeply/proof/stack"
)

// MostOwn bounds the palettes and the papers of a session's own.
const MostOwn = 40

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
	return s.OwnPalette(id) >= 0 || s.OwnPaper(id) >= 0
}

// OwnPalette returns the place of an own palette in OwnPalettes, or -1.
func (s *State) OwnPalette(id string) int {
	return slices.IndexFunc(s.OwnPalettes, func(p pigment.Palette) bool { return p.ID == id })
}

// OwnPaper returns the place of an own paper in OwnPapers, or -1.
func (s *State) OwnPaper(id string) int {
	return slices.IndexFunc(s.OwnPapers, func(p stack.Paper) bool { return p.ID == id })
}

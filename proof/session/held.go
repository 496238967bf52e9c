package session

import (
	"fmt"
	"slices"

	"threeply/proof/pigment"
	"threeply/proof/stack"
)

// HeldPrint is a print that was held to be looked at against others and to be gone back
// to: a named version of the recipe. A palette and a paper of the session's own are kept
// with it, so that it stays what it was when they are edited or taken away.
type HeldPrint struct {
	N       int              `json:"n"` // its number, which it keeps
	Name    string           `json:"name"`
	Seen    Seen             `json:"seen"`
	Palette *pigment.Palette `json:"palette,omitempty" like:"own_palettes"`
	Paper   *stack.Paper     `json:"paper,omitempty" like:"own_papers"`
}

// MostHeld bounds the held prints: more cannot be told apart by their names.
const MostHeld = 24

// Hold is the print as it is chosen now, under a name and the next number.
func (s *State) Hold(name string) HeldPrint {
	h := HeldPrint{N: 1, Name: name, Seen: s.Shown()}
	for _, other := range s.Held {
		h.N = max(h.N, other.N+1)
	}
	if i := s.OwnPalette(s.Palette); i >= 0 {
		own := s.OwnPalettes[i]
		h.Palette = &own
	}
	if i := s.OwnPaper(s.Paper); i >= 0 {
		own := s.OwnPapers[i]
		h.Paper = &own
	}
	return h
}

// HeldOf returns the held print of a number, nil where there is none.
func (s *State) HeldOf(n int) *HeldPrint {
	if i := slices.IndexFunc(s.Held, func(h HeldPrint) bool { return h.N == n }); i >= 0 {
		return &s.Held[i]
	}
	return nil
}

// With is the state as it would be with a held print, to be looked at: palettes and
// papers of the held print's stand in place of those that have their ids now.
func (s *State) With(h *HeldPrint) (State, error) {
	return s.As(h.Whole())
}

// Whole is what was seen, with the palette and the paper that are kept with it.
func (h *HeldPrint) Whole() Seen {
	seen := h.Seen
	seen.OwnPalette, seen.OwnPaper = h.Palette, h.Paper
	return seen
}

// checkHeld: what the tables of ranges and lengths do not say.
func (s *State) checkHeld() *Fault {
	if n := len(s.Held); n > MostHeld {
		return fault("held", "%d held prints: there can be %d", n, MostHeld)
	}
	seen := map[int]bool{}
	for i := range s.Held {
		h, at := &s.Held[i], fmt.Sprintf("held[%d]", i)
		if seen[h.N] {
			return fault(at+".n", "two held prints have the number %d", h.N)
		}
		seen[h.N] = true
		if h.Palette != nil {
			if err := h.Palette.Check(); err != nil {
				return fault(at+".palette", "the held print %d: %v", h.N, err)
			}
		}
		if h.Paper != nil {
			if err := h.Paper.Check(); err != nil {
				return fault(at+".paper", "the held print %d: %v", h.N, err)
			}
		}
		as, err := s.With(h)
		if err != nil {
			return fault(at, "the held print %d: %v", h.N, err)
		}
		if f := as.checkRecipe(); f != nil {
			return fault(at+"."+f.Place, "the held print %d: %s", h.N, f.Reason)
		}
	}
	return nil
}

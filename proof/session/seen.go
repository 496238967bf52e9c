package session

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Seen is the print that somebody looked at, as far as it was chosen: enough to see it
// again, and in words for whoever reads it without the tool.
type Seen struct {
	Palette string     `json:"palette"`
	Order   string     `json:"order" like:"order"`
	Paper   string     `json:"paper"`
	Finish  string     `json:"finish" like:"finish"`
	Light   string     `json:"light"`
	Dim     bool       `json:"dim"`
	Masked  bool       `json:"masked"`
	Limit   float64    `json:"limit" like:"limit"`
	Way     relief.Way `json:"way" like:"way"`
	Words   string     `json:"words"` // all of it, the make-up of the tissues with it

	// A palette and a paper of the session's own as they were, once they were changed or
	// taken away; nil while they stand in the session.
	OwnPalette *pigment.Palette `json:"own_palette,omitempty" like:"own_palettes"`
	OwnPaper   *stack.Paper     `json:"own_paper,omitempty" like:"own_papers"`
}

// Shown is the print as it is chosen now.
func (s *State) Shown() Seen {
	return Seen{
		Palette: s.Palette, Order: s.Order, Paper: s.Paper, Finish: s.Finish, Light: s.Light,
		Dim: s.Dim, Masked: s.Masked, Limit: s.Limit, Way: s.Way, Words: s.printWords(),
	}
}

// Show chooses a print as it was seen, of the palettes and papers that stand in the
// session. It fails where its own are no longer there.
func (s *State) Show(seen Seen) error {
	if _, ok := s.PaletteByID(seen.Palette); !ok {
		return fmt.Errorf("its palette is not there any more; it was: %s", seen.Words)
	}
	if _, ok := s.PaperByID(seen.Paper); !ok {
		return fmt.Errorf("its paper is not there any more; it was: %s", seen.Words)
	}
	s.Palette, s.Order, s.Paper, s.Finish, s.Light = seen.Palette, seen.Order, seen.Paper, seen.Finish, seen.Light
	s.Dim, s.Masked, s.Limit, s.Way = seen.Dim, seen.Masked, seen.Limit, seen.Way
	return nil
}

// As is the state as it would be with a print as it was seen, to be looked at: what it
// kept of palettes and papers stands in place of those that have their ids now.
func (s *State) As(seen Seen) (State, error) {
	out := *s
	if p := seen.OwnPalette; p != nil {
		out.OwnPalettes = append(slices.DeleteFunc(slices.Clone(s.OwnPalettes), func(o pigment.Palette) bool { return o.ID == p.ID }), *p)
	}
	if p := seen.OwnPaper; p != nil {
		out.OwnPapers = append(slices.DeleteFunc(slices.Clone(s.OwnPapers), func(o stack.Paper) bool { return o.ID == p.ID }), *p)
	}
	return out, out.Show(seen)
}

// KeepSeen has notes and the decision keep the palettes and papers that they speak of as
// they were before, where they were changed or taken away since: the print that somebody
// decided for is the same in ten years.
func (s *State) KeepSeen(before *State) {
	palettes := lost(before.OwnPalettes, s.OwnPalettes, func(p *pigment.Palette) string { return p.ID })
	papers := lost(before.OwnPapers, s.OwnPapers, func(p *stack.Paper) string { return p.ID })
	if len(palettes) == 0 && len(papers) == 0 {
		return
	}
	keep := func(seen *Seen) {
		if seen.OwnPalette == nil {
			seen.OwnPalette = palettes[seen.Palette]
		}
		if seen.OwnPaper == nil {
			seen.OwnPaper = papers[seen.Paper]
		}
	}
	s.Notes = slices.Clone(s.Notes)
	for i := range s.Notes {
		keep(&s.Notes[i].Seen)
	}
	if s.Decision.Seen != nil {
		seen := *s.Decision.Seen
		keep(&seen)
		s.Decision.Seen = &seen
	}
}

// lost are those of before that are others now, or gone, by their ids.
func lost[T any](before, now []T, id func(*T) string) map[string]*T {
	if len(before) == len(now) && (len(now) == 0 || &before[0] == &now[0]) {
		return nil
	}
	out := map[string]*T{}
	for i := range before {
		if !slices.ContainsFunc(now, func(n T) bool { return id(&n) == id(&before[i]) && reflect.DeepEqual(n, before[i]) }) {
			kept := before[i]
			out[id(&kept)] = &kept
		}
	}
	return out
}

// checkSeen: what the tables of ranges and lengths do not say of a print at a place.
func checkSeen(seen *Seen, at string) *Fault {
	if seen.OwnPalette != nil {
		if err := seen.OwnPalette.Check(); err != nil {
			return fault(at+".own_palette", "%v", err)
		}
	}
	if seen.OwnPaper != nil {
		if err := seen.OwnPaper.Check(); err != nil {
			return fault(at+".own_paper", "%v", err)
		}
	}
	return nil
}

// printWords says in one line what the chosen print is made of and how it is seen.
func (s *State) printWords() string {
	palette, _ := s.PaletteByID(s.Palette)
	paper, _ := s.PaperByID(s.Paper)
	finish, _ := stack.FinishByID(s.Finish)
	light, _ := spectrum.LightByID(s.Light)
	order, _ := stack.ParseOrder(s.Order)
	var layers []string
	for _, p := range order {
		layers = append(layers, p.String()+" "+tissueWords(palette.Layer(p)))
	}
	parts := []string{
		palette.Name + ": " + strings.Join(layers, ", ") + " (from the paper up)",
		"paper " + paper.Name, finish.Name, light.Name,
	}
	if s.Dim {
		parts = append(parts, fmt.Sprintf("in %d lx", GalleryLux))
	}
	switch {
	case s.Way.Straight && s.Way.Range > 0:
		parts = append(parts, fmt.Sprintf("printed straight, to a range of %.4g", s.Way.Range))
	case s.Way.Straight:
		parts = append(parts, "printed straight")
	default:
		parts = append(parts, "printed tuned")
	}
	if s.Way.AtDepth && s.Way.Straight {
		parts = append(parts, "right for the black")
	}
	for _, p := range pigment.Printers() {
		if stops := s.Way.Stops[p]; stops != 0 {
			parts = append(parts, fmt.Sprintf("%s %+.3g stops", p, stops))
		}
	}
	if s.Masked {
		parts = append(parts, "masked")
	}
	parts = append(parts, fmt.Sprintf("no layer thicker than %.4g of its coat", s.Limit))
	return firstLetters(strings.Join(parts, "; "), LettersAt("notes.seen.words"))
}

package command

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/stack"
)

// Hold holds the print as it is chosen now, as a named version of the recipe. Without a
// name it is called after its palette.
type Hold struct {
	Text string `json:"text,omitempty" like:"held.name"`
}

func (c Hold) Apply(s *session.State) error {
	name := clean(c.Text)
	if name == "" {
		palette, _ := s.PaletteByID(s.Palette)
		name = palette.Name
	}
	return hold(s, s, name)
}
func (Hold) Words() string { return "held print" }

// HoldEarlier holds the print as it was in an earlier state of the same set. It is no command
// of its own in a text, which could not hold the state.
type HoldEarlier struct {
	Was  session.State
	Text string
}

func (c HoldEarlier) Apply(s *session.State) error { return hold(s, &c.Was, clean(c.Text)) }
func (HoldEarlier) Words() string                  { return "held print" }

// hold holds the print of a state, under a name that no other held print has.
func hold(s, was *session.State, name string) error {
	if n := len(s.Held); n >= session.MostHeld {
		return fmt.Errorf("%d prints are held already: let one go first", n)
	}
	held := was.Hold(freeHeld(s, name))
	held.N = s.Hold("").N
	s.Held = append(slices.Clone(s.Held), held)
	return nil
}

// freeHeld returns the first of name, name 2 … that no held print has.
func freeHeld(s *session.State, name string) string {
	for n := 1; ; n++ {
		free := name
		if n > 1 {
			free = firstLetters(name, session.LettersAt("held.name")-5) + fmt.Sprintf(" %d", n)
		}
		if !slices.ContainsFunc(s.Held, func(h session.HeldPrint) bool { return h.Name == free }) {
			return free
		}
	}
}

// NameHeld gives a held print another name.
type NameHeld struct {
	N    int    `json:"n" like:"held.n"`
	Text string `json:"text" like:"held.name"`
}

func (c NameHeld) Apply(s *session.State) error {
	if s.HeldOf(c.N) == nil {
		return noHeld(c.N)
	}
	name := clean(strings.TrimSpace(c.Text))
	if name == "" {
		return fmt.Errorf("a held print needs a name")
	}
	s.Held = slices.Clone(s.Held)
	s.HeldOf(c.N).Name = name
	return nil
}
func (NameHeld) Words() string { return "name of a held print" }

// DropHeld lets a held print go.
type DropHeld struct {
	N int `json:"n" like:"held.n"`
}

func (c DropHeld) Apply(s *session.State) error {
	i := slices.IndexFunc(s.Held, func(h session.HeldPrint) bool { return h.N == c.N })
	if i < 0 {
		return noHeld(c.N)
	}
	s.Held = without(s.Held, i)
	return nil
}
func (DropHeld) Words() string { return "held print" }

// TakeHeld makes a held print the one that is worked on.
type TakeHeld struct {
	N int `json:"n" like:"held.n"`
}

func (c TakeHeld) Apply(s *session.State) error {
	h := s.HeldOf(c.N)
	if h == nil {
		return noHeld(c.N)
	}
	return chooseAsSeen(s, h.Whole())
}
func (TakeHeld) Words() string { return "version of the recipe" }

// chooseAsSeen makes a print that was seen the one that is worked on. The palette and the
// paper that it kept come back, once, under new ids where others have theirs by now.
func chooseAsSeen(s *session.State, seen session.Seen) error {
	if p := seen.OwnPalette; p != nil {
		same := slices.IndexFunc(s.OwnPalettes, func(o pigment.Palette) bool {
			o.ID, o.Name = p.ID, p.Name
			return reflect.DeepEqual(o, *p)
		})
		if same >= 0 {
			seen.Palette = s.OwnPalettes[same].ID
		} else if err := (TakePalette{*p}).Apply(s); err != nil {
			return err
		} else {
			seen.Palette = s.Palette
		}
	}
	if p := seen.OwnPaper; p != nil {
		same := slices.IndexFunc(s.OwnPapers, func(o stack.Paper) bool {
			o.ID, o.Name = p.ID, p.Name
			return reflect.DeepEqual(o, *p)
		})
		if same >= 0 {
			seen.Paper = s.OwnPapers[same].ID
		} else if err := (TakePaper{*p}).Apply(s); err != nil {
			return err
		} else {
			seen.Paper = s.Paper
		}
	}
	return s.Show(seen)
}

func noHeld(n int) error { return fmt.Errorf("no print is held under the number %d", n) }

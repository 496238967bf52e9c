package command

import (
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// A held print stays what it was: neither another recipe, nor an edit of its palette, nor
// taking that away changes it; taken back it is the recipe again, beside what there is.
func TestHeldPrintStaysWhatItWas(t *testing.T) {
	s := sessiontest.Marked()
	s.Held = nil
	run := func(c Command) {
		t.Helper()
		if err := c.Apply(&s); err != nil {
			t.Fatalf("%#v: %v", c, err)
		}
		if err := s.Check(); err != nil {
			t.Fatalf("after %#v: %v", c, err)
		}
	}
	own, _ := s.PaletteByID(s.Palette)
	run(Hold{})
	if h := s.HeldOf(1); h == nil || h.Name != own.Name || h.Palette == nil || h.Paper == nil {
		t.Fatalf("held is %+v", h)
	}
	edited := own.Cyan
	edited.Load = 0.5
	run(Tissue{Printer: "cyan", Tissue: edited})
	run(Order{"cmy"})
	run(Light{"A"})
	run(Paper{"sized"})
	run(DropPaper{"paper-1"})
	as, err := s.With(s.HeldOf(1))
	if err != nil {
		t.Fatal(err)
	}
	if p, _ := as.PaletteByID(as.Palette); p.Cyan.Load != 1.5 || as.Order != "ymc" || as.Light != "D50" || as.Paper != "paper-1" {
		t.Errorf("the held print has become another one: %s, %+v", as.Order, p.Cyan)
	}
	if p, _ := s.PaletteByID(s.Palette); p.Cyan.Load != 0.5 {
		t.Error("looking at a held print changes the recipe")
	}
	run(TakeHeld{1})
	if p, _ := s.PaletteByID(s.Palette); p.Cyan.Load != 1.5 || p.ID == "own-1" || s.Order != "ymc" || s.Light != "D50" {
		t.Errorf("taken back it is %s, %s, %+v", p.ID, s.Order, p.Cyan)
	}
	if p, ok := s.PaletteByID("own-1"); !ok || p.Cyan.Load != 0.5 {
		t.Error("the edited palette was replaced")
	}
	if paper, _ := s.PaperByID(s.Paper); paper.Name != "Old ledger" {
		t.Errorf("its paper is %q", paper.Name)
	}
	run(Hold{"  "})
	run(NameHeld{2, "Dusk"})
	run(DropHeld{1})
	if len(s.Held) != 1 || s.Held[0].Name != "Dusk" || s.Held[0].N != 2 {
		t.Errorf("held are %+v", s.Held)
	}
}

func TestHeldPrintsAreBounded(t *testing.T) {
	s := session.New()
	for range session.MostHeld {
		if err := (Hold{"x"}).Apply(&s); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Check(); err != nil || s.Held[3].Name != "x 4" {
		t.Errorf("%q: %v", s.Held[3].Name, err)
	}
	if err := (Hold{}).Apply(&s); err == nil || !strings.Contains(err.Error(), "let one go") {
		t.Errorf("one more: %v", err)
	}
	for _, c := range []Command{NameHeld{99, "y"}, NameHeld{1, " "}, DropHeld{99}, TakeHeld{99}} {
		if err := c.Apply(&s); err == nil {
			t.Errorf("%#v is done", c)
		}
	}
	s.Held[1].Seen.Palette = "mauve"
	if s.Check() == nil {
		t.Error("a held print of no palette is sound")
	}
}

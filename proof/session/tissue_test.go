package session

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// must carries commands out that have to be taken.
func must(t *testing.T, s *Session, commands ...Command) {
	t.Helper()
	for _, c := range commands {
		if err := s.Do(c); err != nil {
			t.Fatalf("%s: %v", c.Do, err)
		}
	}
}

// heavier is the cyan tissue of a palette with another load.
func heavier(t *testing.T, s *Session, load float64) *pigment.Tissue {
	t.Helper()
	p, ok := s.PaletteByID(s.Palette)
	if !ok {
		t.Fatalf("no palette %q", s.Palette)
	}
	tissue := p.Cyan
	tissue.Load = load
	return &tissue
}

func TestChangingABuiltInTissueBeginsAnOwnPalette(t *testing.T) {
	s := NewSession(opened())
	must(t, s, Command{Do: "tissue", Printer: "cyan", Tissue: heavier(t, s, 1.5)})
	own, _ := s.PaletteByID(s.Palette)
	if len(s.OwnPalettes) != 1 || !s.Own(own.ID) || own.Cyan.Load != 1.5 || own.Era != pigment.Modern {
		t.Fatalf("chosen is %+v of %d own", own, len(s.OwnPalettes))
	}
	if built, _ := pigment.PaletteByID("arylide"); built.Cyan.Load != 1 || built.Yellow.Load != own.Yellow.Load {
		t.Error("the built-in palette, or another layer, has changed")
	}
	must(t, s, Command{Do: "tissue", Printer: "cyan", Tissue: heavier(t, s, 1.6)})
	if len(s.OwnPalettes) != 1 {
		t.Fatalf("a second change began another palette")
	}
	s.Undo() // both changes are one gesture
	if s.Palette != "arylide" || len(s.OwnPalettes) != 0 {
		t.Errorf("after undo: %s, %d own", s.Palette, len(s.OwnPalettes))
	}
	s.Redo()
	if p, _ := s.PaletteByID(s.Palette); p.Cyan.Load != 1.6 {
		t.Errorf("redo brings a load of %g", p.Cyan.Load)
	}
}

func TestOwnPalettesComeAndGo(t *testing.T) {
	s := NewSession(opened())
	earth, _ := pigment.PaletteByID("earth")
	must(t, s, Command{Do: "takePalette", Palette: &earth})
	if s.Palette != "earth" || len(s.OwnPalettes) != 0 {
		t.Fatalf("a file of a built-in palette gives %s, %d own", s.Palette, len(s.OwnPalettes))
	}
	other := earth
	other.ID, other.Name = "mine", "Mine"
	other.Magenta.Haze = 2
	must(t, s, Command{Do: "takePalette", Palette: &other}, Command{Do: "takePalette", Palette: &other})
	if len(s.OwnPalettes) != 2 || s.OwnPalettes[0].ID == s.OwnPalettes[1].ID || s.OwnPalettes[0].Name == s.OwnPalettes[1].Name {
		t.Fatalf("opened twice: %+v", s.OwnPalettes)
	}
	must(t, s, Command{Do: "namePalette", ID: "mine", Text: " Dusk "})
	if p, _ := s.PaletteByID("mine"); p.Name != "Dusk" {
		t.Errorf("it is called %q", p.Name)
	}
	text, err := Write(s.State)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := Read("kept", text); err != nil || !back.Equal(s.State) {
		t.Errorf("own palettes do not survive the file: %v", err)
	}
	must(t, s, Command{Do: "dropPalette", ID: s.Palette})
	if len(s.OwnPalettes) != 1 || s.Palette != New().Palette {
		t.Errorf("dropped: %d own, chosen %s", len(s.OwnPalettes), s.Palette)
	}
}

func TestFaultyTissuesAreRefused(t *testing.T) {
	s := NewSession(opened())
	begin := s.State
	good := pigment.NewTissue(pigment.Share{CI: "PB27", Share: 1})
	bad := map[string]func(*pigment.Tissue){
		"sum":     func(t *pigment.Tissue) { t.Pigments = []pigment.Share{{CI: "PB27", Share: 0.5}} },
		"table":   func(t *pigment.Tissue) { t.Pigments = []pigment.Share{{CI: "PX1", Share: 1}} },
		"bounds":  func(t *pigment.Tissue) { t.Load = 1e6 },
		"give 1":  func(t *pigment.Tissue) { t.Pigments = nil },
		"of bou":  func(t *pigment.Tissue) { t.CoatMicron = math.NaN() },
		"a share": func(t *pigment.Tissue) { t.Pigments = []pigment.Share{{CI: "PB27", Share: -1}} },
	}
	for word, spoil := range bad {
		tissue := good
		spoil(&tissue)
		if err := s.Do(Command{Do: "tissue", Printer: "cyan", Tissue: &tissue}); err == nil || !strings.Contains(err.Error(), word) {
			t.Errorf("%s: %v", word, err)
		}
	}
	for _, c := range []Command{{Do: "tissue", Printer: "cyan"}, {Do: "tissue", Printer: "black", Tissue: &good}, {Do: "dropPalette", ID: "earth"}, {Do: "namePalette", ID: "earth", Text: "x"}, {Do: "takePalette"}, {Do: "takePaper"}, {Do: "dropPaper", ID: "sized"}} {
		if s.Do(c) == nil {
			t.Errorf("%+v is taken", c)
		}
	}
	if !s.State.Equal(begin) {
		t.Error("a refused command leaves a trace")
	}
}

func TestOwnPaper(t *testing.T) {
	s := NewSession(opened())
	paper, err := stack.PaperFromLab("x", "Old ledger", spectrum.Lab{88, 1, 9})
	if err != nil {
		t.Fatal(err)
	}
	must(t, s, Command{Do: "takePaper", Paper: &paper}, Command{Do: "takePaper", Paper: &paper})
	if len(s.OwnPapers) != 2 || s.OwnPapers[0].ID == s.OwnPapers[1].ID || s.OwnPapers[0].Name == s.OwnPapers[1].Name {
		t.Fatalf("own papers: %+v", s.OwnPapers)
	}
	must(t, s, Command{Do: "dropPaper", ID: s.Paper})
	if len(s.OwnPapers) != 1 || s.Paper != New().Paper {
		t.Errorf("dropped: %d own, chosen %s", len(s.OwnPapers), s.Paper)
	}
	paper.R[3] = 1.4
	if s.Do(Command{Do: "takePaper", Paper: &paper}) == nil {
		t.Error("a paper that gives back more light than it gets is taken")
	}
}

package command

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// must carries commands out that have to be taken.
func must(t *testing.T, s *History, commands ...Command) {
	t.Helper()
	for _, c := range commands {
		if err := s.Do(c, ""); err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
	}
}

// heavier is the cyan tissue of a palette with another load.
func heavier(t *testing.T, s *History, load float64) pigment.Tissue {
	t.Helper()
	p, ok := s.PaletteByID(s.Palette)
	if !ok {
		t.Fatalf("no palette %q", s.Palette)
	}
	tissue := p.Cyan
	tissue.Load = load
	return tissue
}

func TestChangingABuiltInTissueBeginsAnOwnPalette(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	do := func(load float64) {
		t.Helper()
		if err := s.Do(Tissue{Printer: "cyan", Tissue: heavier(t, s, load)}, "slider"); err != nil {
			t.Fatal(err)
		}
	}
	do(1.5)
	own, _ := s.PaletteByID(s.Palette)
	if len(s.OwnPalettes) != 1 || !s.Own(own.ID) || own.Cyan.Load != 1.5 || own.Era != pigment.Modern {
		t.Fatalf("chosen is %+v of %d own", own, len(s.OwnPalettes))
	}
	if built, _ := pigment.PaletteByID("arylide"); built.Cyan.Load == 1.5 || built.Yellow.Load != own.Yellow.Load {
		t.Error("the built-in palette, or another layer, has changed")
	}
	do(1.6)
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
	s := NewHistory(sessiontest.Opened())
	earth, _ := pigment.PaletteByID("earth")
	must(t, s, TakePalette{Palette: earth})
	if s.Palette != "earth" || len(s.OwnPalettes) != 0 {
		t.Fatalf("a file of a built-in palette gives %s, %d own", s.Palette, len(s.OwnPalettes))
	}
	other := earth
	other.ID, other.Name = "mine", "Mine"
	other.Magenta.Haze = 2
	must(t, s, TakePalette{Palette: other}, TakePalette{Palette: other})
	if len(s.OwnPalettes) != 2 || s.OwnPalettes[0].ID == s.OwnPalettes[1].ID || s.OwnPalettes[0].Name == s.OwnPalettes[1].Name {
		t.Fatalf("opened twice: %+v", s.OwnPalettes)
	}
	must(t, s, NamePalette{ID: "mine", Text: " Dusk "})
	if p, _ := s.PaletteByID("mine"); p.Name != "Dusk" {
		t.Errorf("it is called %q", p.Name)
	}
	text, err := session.Write(s.State)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := session.Read("kept", text); err != nil || !back.Equal(s.State) {
		t.Errorf("own palettes do not survive the file: %v", err)
	}
	must(t, s, DropPalette{ID: s.Palette})
	if len(s.OwnPalettes) != 1 || s.Palette != session.New().Palette {
		t.Errorf("dropped: %d own, chosen %s", len(s.OwnPalettes), s.Palette)
	}
}

func TestFaultyTissuesAreRefused(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	begin := s.State
	good := pigment.NewTissue(pigment.Share{CI: "PB27", Share: 1})
	bad := map[string]func(*pigment.Tissue){
		"sum":     func(t *pigment.Tissue) { t.Pigments = []pigment.Share{{CI: "PB27", Share: 0.5}} },
		"table":   func(t *pigment.Tissue) { t.Pigments = []pigment.Share{{CI: "PX1", Share: 1}} },
		"bounds":  func(t *pigment.Tissue) { t.Load = 1e6 },
		"give 1":  func(t *pigment.Tissue) { t.Pigments = nil },
		"of bou":  func(t *pigment.Tissue) { t.CoatMicron = math.Inf(1) },
		"missing": func(t *pigment.Tissue) { t.Haze = math.NaN() },
		"a share": func(t *pigment.Tissue) { t.Pigments = []pigment.Share{{CI: "PB27", Share: -1}} },
	}
	for word, spoil := range bad {
		tissue := good
		spoil(&tissue)
		if err := s.Do(Tissue{Printer: "cyan", Tissue: tissue}, ""); err == nil || !strings.Contains(err.Error(), word) {
			t.Errorf("%s: %v", word, err)
		}
	}
	for _, c := range []Command{Tissue{Printer: "cyan"}, Tissue{Printer: "black", Tissue: good}, DropPalette{ID: "earth"}, NamePalette{ID: "earth", Text: "x"}, TakePalette{}, TakePaper{}, DropPaper{ID: "sized"}} {
		if s.Do(c, "") == nil {
			t.Errorf("%+v is taken", c)
		}
	}
	if !s.State.Equal(begin) {
		t.Error("a refused command leaves a trace")
	}
}

func TestOwnPaper(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	paper, err := stack.PaperFromLab("x", "Old ledger", spectrum.Lab{88, 1, 9})
	if err != nil {
		t.Fatal(err)
	}
	must(t, s, TakePaper{Paper: paper}, TakePaper{Paper: paper})
	if len(s.OwnPapers) != 2 || s.OwnPapers[0].ID == s.OwnPapers[1].ID || s.OwnPapers[0].Name == s.OwnPapers[1].Name {
		t.Fatalf("own papers: %+v", s.OwnPapers)
	}
	must(t, s, DropPaper{ID: s.Paper})
	if len(s.OwnPapers) != 1 || s.Paper != session.New().Paper {
		t.Errorf("dropped: %d own, chosen %s", len(s.OwnPapers), s.Paper)
	}
	paper.R[3] = 1.4
	if s.Do(TakePaper{Paper: paper}, "") == nil {
		t.Error("a paper that gives back more light than it gets is taken")
	}
}

// What a hand-edited session or a command leaves out is missing, not nothing.
func TestLeftOutIsMissing(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	paper, err := stack.PaperFromLab("x", "Old ledger", spectrum.Lab{88, 1, 9})
	if err != nil {
		t.Fatal(err)
	}
	must(t, s, Tissue{Printer: "cyan", Tissue: heavier(t, s, 1.5)}, TakePaper{Paper: paper})
	text, err := session.Write(s.State)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := session.Read("kept", text); err != nil || !back.Equal(s.State) {
		t.Fatalf("does not come back: %v", err)
	}
	for says, spoil := range map[string]func(palette, paper map[string]any){
		"cyan.haze” is missing":         func(p, _ map[string]any) { delete(p["cyan"].(map[string]any), "haze") },
		"cyan.load” is null":            func(p, _ map[string]any) { p["cyan"].(map[string]any)["load"] = nil },
		"yellow.coatMicron” is missing": func(p, _ map[string]any) { delete(p["yellow"].(map[string]any), "coatMicron") },
		"yellow.pigments” is missing":   func(p, _ map[string]any) { delete(p["yellow"].(map[string]any), "pigments") },
		"magenta” is missing":           func(p, _ map[string]any) { delete(p, "magenta") },
		"r” has 1 values; 71":           func(_, r map[string]any) { r["r"] = []float64{0.5} },
		"r” is missing":                 func(_, r map[string]any) { delete(r, "r") },
		"r” has more than 71 values":    func(_, r map[string]any) { r["r"] = append(r["r"].([]any), 0.5) },
		"next to no light":              func(_, r map[string]any) { r["r"] = make([]float64, spectrum.N) },
		"1 to 80 characters":            func(_, r map[string]any) { r["name"] = strings.Repeat("紙", 81) },
	} {
		var f map[string]any
		if err := json.Unmarshal(text, &f); err != nil {
			t.Fatal(err)
		}
		spoil(f["own_palettes"].([]any)[0].(map[string]any), f["own_papers"].([]any)[0].(map[string]any))
		bad, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := session.Read("kept.json", bad); err == nil || !strings.Contains(err.Error(), says) || !strings.HasPrefix(err.Error(), "kept.json: ") {
			t.Errorf("%v, want %q", err, says)
		}
	}
	begin := s.State
	for text, want := range map[string]string{
		`{"do":"takePaper","paper":{"id":"","source":"","name":"x","r":[0.5]}}`:                                     "“paper.r” has 1 values; 71 belong there",
		`{"do":"takePaper","paper":{"id":"","source":"","name":"x"}}`:                                               "“paper.r” is missing",
		`{"do":"tissue","printer":"cyan","tissue":{"pigments":[{"ci":"PB27","share":1}],"load":1,"coatMicron":24}}`: "“tissue.haze” is missing",
	} {
		if _, _, err := Read([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
	if !s.State.Equal(begin) {
		t.Error("a refused command leaves a trace")
	}
}

// Names of 80 characters of any script are taken, and a second one of the same
// name too.
func TestLongNames(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	p, _ := pigment.PaletteByID("earth")
	p.ID, p.Name = "mine", strings.Repeat("紙", 80)
	paper, err := stack.PaperFromLab("x", p.Name, spectrum.Lab{88, 1, 9})
	if err != nil {
		t.Fatal(err)
	}
	must(t, s, TakePalette{Palette: p}, TakePalette{Palette: p}, TakePaper{Paper: paper}, NamePalette{ID: "mine", Text: strings.Repeat("é", 80)})
	paper.Name = strings.Repeat("spectrum of ", 10)
	must(t, s, TakePaper{Paper: paper}, TakePaper{Paper: paper})
	if len(s.OwnPalettes) != 2 || len(s.OwnPapers) != 3 {
		t.Errorf("%d palettes, %d papers", len(s.OwnPalettes), len(s.OwnPapers))
	}
}

func f(v float64) *float64 { return &v }

// What was measured of a tissue goes along while its pigments stay, is taken over from
// another palette, and is gone with other pigments; what the overprints of three tissues
// came out as holds for these three alone.
func TestMeasuredTissuesAreKept(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	p.ID, p.Name = "ours", "Ours"
	p.Measured = &pigment.Measurement{Date: "2026-03-01", Way: "spectra"}
	for _, printer := range pigment.Printers() {
		tissue := p.Layer(printer)
		k, s := tissue.KS()
		tissue.Measured = &pigment.Spectra{K: k, S: s}
		p = p.WithLayer(printer, tissue)
	}
	h := NewHistory(session.New())
	do := func(c Command) pigment.Palette {
		t.Helper()
		if err := h.Do(c, ""); err != nil {
			t.Fatal(err)
		}
		now, _ := h.PaletteByID(h.Palette)
		return now
	}
	do(TakePalette{Palette: p})
	loaded := p.Cyan
	loaded.Load, loaded.Measured = 2, nil // as the page gives it
	if now := do(Tissue{Printer: "cyan", Tissue: loaded}); now.Cyan.Measured == nil || now.Cyan.Load != 2 || now.Measured == nil {
		t.Errorf("with another load: %v, %v", now.Cyan.Measured != nil, now.Measured)
	}
	other := loaded
	other.Pigments = []pigment.Share{{CI: "PB15:3", Share: 1}}
	if now := do(Tissue{Printer: "cyan", Tissue: other}); now.Cyan.Measured != nil || now.Measured != nil || now.Yellow.Measured == nil {
		t.Error("another pigment is still measured")
	}
	do(Palette{ID: "arylide"})
	if now := do(Tissue{Printer: "yellow", Tissue: pigment.Tissue{Pigments: p.Yellow.Pigments, Load: 1, Haze: 1, CoatMicron: 24}, From: "ours"}); now.Yellow.Measured == nil || now.ID == "ours" {
		t.Error("a tissue taken over is not the measured one")
	}
	if err := h.Do(Tissue{Printer: "yellow", Tissue: p.Yellow, From: "none"}, ""); err == nil {
		t.Error("taken from a palette that is not there")
	}
}

// A measured wedge goes before the law of its tissue alone, by a palette of the user's own;
// taken away, the tissue is as it was. Its load is set by it only where that is asked for.
func TestWedge(t *testing.T) {
	const table = "tablet;print\n0,05;1,30\n0,20;1,30\n0,35;1,15\n0,65;0,80\n0,95;0,45\n1,25;0,15\n1,55;0,00\n1,85;0,00\n"
	h := NewHistory(session.New())
	do := func(c Wedge) pigment.Palette {
		t.Helper()
		if err := h.Do(c, ""); err != nil {
			t.Fatal(err)
		}
		now, _ := h.PaletteByID(h.Palette)
		return now
	}
	built, _ := h.PaletteByID(h.Palette)
	now := do(Wedge{Printer: "cyan", Table: table, Exposure: 100})
	w := now.Cyan.Hardening.Wedge
	if !h.Own(now.ID) || now.Cyan.Load != built.Cyan.Load || len(now.Yellow.Hardening.Wedge) != 0 || h.UndoWords() != "measured wedge" {
		t.Errorf("%+v", now.Cyan)
	}
	if len(w) != 6 || math.Abs(w[0].LogExposure-0.45) > 1e-9 || w[0].Micron != 0 || math.Abs(w[5].LogExposure-1.8) > 1e-9 || math.Abs(w[5].Micron-now.Cyan.CoatMicron) > 1e-6 {
		t.Errorf("the wedge is %+v", w)
	}
	if loaded := do(Wedge{Printer: "cyan", Table: table, Load: true}); !(loaded.Cyan.Load < 0.95*built.Cyan.Load) {
		t.Errorf("a coat that prints 1.30 has the load %.2f, built in %.2f", loaded.Cyan.Load, built.Cyan.Load)
	}
	if gone := do(Wedge{Printer: "cyan"}); len(gone.Cyan.Hardening.Wedge) != 0 {
		t.Error("the wedge is still there")
	}
	for _, bad := range []Wedge{{Printer: "black", Table: table}, {Printer: "cyan", Table: "0.05 1"}, {Printer: "cyan", Table: table, Read: "visible"}} {
		if err := h.Do(bad, ""); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// A strip that was measured goes along with its tissue while the pigments stay the same, and
// can be taken away again.
func TestFading(t *testing.T) {
	h := NewHistory(session.New())
	cyan := func(c Command) pigment.Tissue {
		t.Helper()
		if err := h.Do(c, ""); err != nil {
			t.Fatal(err)
		}
		now, _ := h.PaletteByID(h.Palette)
		return now.Cyan
	}
	strip := Fading{Printer: "cyan", Dose: 12, Before: 1, After: 0.6}
	faded := cyan(strip).Faded
	if faded == nil || faded.Dose != 12 || !(faded.Left > 0.4 && faded.Left < 0.65) { // density goes nearly with the pigment
		t.Fatalf("%+v", faded)
	}
	now, _ := h.PaletteByID(h.Palette)
	stronger := now.Cyan
	stronger.Load, stronger.Faded = 1.5, nil
	edited := cyan(Tissue{Printer: "cyan", Tissue: stronger})
	if edited.Faded == nil || *edited.Faded != *faded {
		t.Errorf("another load: %+v", edited.Faded)
	}
	edited.Pigments, edited.Faded = []pigment.Share{{CI: "PB27", Share: 1}}, nil
	if other := cyan(Tissue{Printer: "cyan", Tissue: edited}); other.Faded != nil {
		t.Error("another pigment has the strip of the first")
	}
	cyan(strip)
	if gone := cyan(Fading{Printer: "cyan"}); gone.Faded != nil {
		t.Error("the strip is still there")
	}
	for _, bad := range []Fading{
		{Printer: "black", Dose: 1, Before: 1, After: 0.5}, {Printer: "cyan", Dose: 1, Before: 0.1, After: 0.05}, {Printer: "cyan", Dose: 1, Before: 1, After: 1.1},
		{Printer: "cyan", Dose: 1, Before: 1, After: 0}, {Printer: "cyan", Dose: 1, Before: 3.9, After: 1}, {Printer: "cyan", Dose: 1e9, Before: 1, After: 0.5},
	} {
		if err := h.Do(bad, ""); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

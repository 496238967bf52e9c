package command

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

func text(s string) *string { return &s }

func doAll(t *testing.T, h *History, all ...Command) {
	t.Helper()
	for _, c := range all {
		if err := h.Do(c, ""); err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
	}
}

// A note has a number for good, a place on the key, and the print that was looked at;
// editing it later, under another print, changes neither. All of it is undone.
func TestNotes(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	before := h.State
	at := "2026-03-02T10:20:00Z"
	doAll(t, h,
		Note{X: 300, Y: 200, Title: " Sails ", Text: "Warm?\r\nOr not", By: "IM", At: at},
		Note{X: 10, Y: 20, At: at}, DropNote{N: 1}, Note{X: 30, Y: 40, At: at})
	if n := h.Notes; len(n) != 2 || n[0].N != 2 || n[1].N != 3 || n[0].Source != h.KeySource() {
		t.Fatalf("numbers or plates of the notes: %+v", n)
	}
	seen := h.Notes[0].Seen
	doAll(t, h, Palette{ID: "earth"}, EditNote{N: 2, Text: text("later"), State: text(session.NotePrinter)}, MoveNote{N: 2, X: 11, Y: 21})
	if n := h.Notes[0]; n.Text != "later" || n.State != session.NotePrinter || n.X != 11 || n.Seen != seen || n.Title != "" {
		t.Errorf("edited: %+v", n)
	}
	if h.Shown() == seen {
		t.Error("another palette is the same print")
	}
	doAll(t, h, ShowNoted{N: 2})
	if h.Shown() != seen {
		t.Errorf("shown as %+v, noted on %+v", h.Shown(), seen)
	}
	for h.UndoWords() != "" {
		if err := h.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if !h.State.Equal(before) {
		t.Error("undone, the session is another one")
	}
	doAll(t, h, Note{X: 300, Y: 200, Title: " Sails ", Text: "Warm?\r\nOr not", At: at})
	if n := h.Notes[0]; n.N != 1 || n.Title != "Sails" || n.Text != "Warm?\nOr not" || n.State != session.NoteOpen {
		t.Errorf("taken as %+v", n)
	}
}

// Points are numbered from 1, the first free number first, and there are only so many.
func TestPoints(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	doAll(t, h, HoldPoint{X: 10, Y: 20}, HoldPoint{X: 30, Y: 40}, HoldPoint{X: 50, Y: 60}, DropPoint{N: new(2)}, HoldPoint{X: 70, Y: 80})
	if p := h.Points; len(p) != 3 || p[1] != (session.Point{N: 2, Source: h.KeySource(), X: 70, Y: 80}) || p[2].N != 3 {
		t.Fatalf("held are %+v", p)
	}
	doAll(t, h, DropPoint{})
	if h.Points != nil {
		t.Errorf("all were let go, and there are %+v", h.Points)
	}
	for range session.MostPoints {
		doAll(t, h, HoldPoint{X: 10, Y: 20})
	}
	if err := h.Do(HoldPoint{X: 1, Y: 1}, ""); err == nil || !strings.Contains(err.Error(), "let one go") {
		t.Errorf("one point more than there can be: %v", err)
	}
	doAll(t, h, DropPoint{N: new(1)})
	if err := h.Do(HoldPoint{X: 9000, Y: 1}, ""); err == nil || !strings.Contains(err.Error(), "lies off") {
		t.Errorf("a point off the plate: %v", err)
	}
}

func TestNotesThatAreRefused(t *testing.T) {
	at := "2026-03-02T10:20:00Z"
	for want, c := range map[string]Command{
		"lies off":                  Note{X: 5000, Y: 2, At: at},
		"is no time":                Note{X: 5, Y: 2, At: "yesterday"},
		"there is no note 9":        EditNote{N: 9},
		"no note 8":                 DropNote{N: 8},
		"no note 7":                 ShowNoted{N: 7},
		"is too long":               Note{X: 5, Y: 2, At: at, Text: strings.Repeat("ж", 10_241)},
		"no print was decided":      ShowDecided{},
		"cannot hold “{colour}”":    NameFiles{Pattern: "{colour}-{what}"},
		"holds {what} once":         NameFiles{Pattern: "{title}"},
		"is no state of a note":     EditNote{N: 1, State: text("done")},
		"cannot hold “{what”":       NameFiles{Pattern: "{title}-{what"},
		"there is no source 3":      IdentifyPlate{Source: 3},
		"“aaaaaaaaaaaaaaaaaaaaaaaa": Identify{Number: text(strings.Repeat("a", 201))},
	} {
		h := NewHistory(sessiontest.Opened())
		doAll(t, h, Note{X: 1, Y: 1, At: at})
		before := h.State
		if err := h.Do(c, ""); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", c, err, want)
		}
		if !h.State.Equal(before) {
			t.Errorf("%+v: refused, and the session is another one", c)
		}
	}
	full := sessiontest.Opened()
	for i := range session.MostNotes {
		full.Notes = append(full.Notes, session.Note{N: i + 1, X: 1, Y: 1, At: at, State: session.NoteOpen, Seen: full.Shown()})
	}
	h := NewHistory(full)
	if err := h.Do(Note{X: 1, Y: 1, At: at}, ""); err == nil || !strings.Contains(err.Error(), "delete one first") {
		t.Errorf("one note too many: %v", err)
	}
}

// Markup and letters that run from right to left are kept as they are; signs that
// nobody can see are not.
func TestHostileTextIsText(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	hostile := "<script>alert(1)</script> “\u202eabc” &amp; 🙂 'quoted'"
	doAll(t, h, Identify{Number: text(hostile), Creator: text("a\x00b\x1bc\u0085")}, Decide{Reason: text(hostile)}, Note{Title: hostile, At: "2026-03-02T10:20:00Z"})
	if h.Identity.Number != hostile || h.Decision.Reason != hostile || h.Notes[0].Title != hostile {
		t.Errorf("changed to %q", h.Identity.Number)
	}
	if h.Identity.Creator != "abc" {
		t.Errorf("control signs: %q", h.Identity.Creator)
	}
	out, err := session.Write(h.State)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := session.Read("a.json", out); err != nil || !back.Equal(h.State) {
		t.Errorf("read back: %v", err)
	}
}

// What is decided is tied to the print of that moment, and to none without a choice.
func TestDecide(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	doAll(t, h, Decide{Reason: text("because")})
	if h.Decision.Seen != nil {
		t.Error("a reason alone chooses a print")
	}
	doAll(t, h, Palette{ID: "earth"}, Decide{Choice: text("Earth"), By: text("IM"), Date: text("2026-03-02")})
	chosen := h.Shown()
	doAll(t, h, Palette{ID: "chrome"}, Decide{Questions: text("Is the sky stained?")})
	if h.Decision.Seen == nil || *h.Decision.Seen != chosen || h.Decision.Reason != "because" {
		t.Errorf("decided: %+v", h.Decision)
	}
	doAll(t, h, ShowDecided{})
	if h.Palette != "earth" {
		t.Errorf("the print decided for has the palette %s", h.Palette)
	}
	doAll(t, h, Decide{Choice: text("")})
	if h.Decision.Seen != nil {
		t.Error("without a choice there is still a print")
	}
}

// The print of a note and of a decision is what it was, though its tissues are mixed anew,
// and after they were taken off; so it is in what is saved of it.
func TestAPrintStaysWhatItWas(t *testing.T) {
	was := sessiontest.Marked()
	own := was.OwnPalettes[0]
	heavier := own.Cyan
	heavier.Load = 2.5
	for what, changes := range map[string][]Command{
		"mixed anew": {Tissue{Printer: "cyan", Tissue: heavier}},
		"taken off":  {Palette{ID: "earth"}, Paper{ID: "rag"}, DropPalette{ID: "own-1"}, DropPaper{ID: "paper-1"}},
	} {
		h := NewHistory(was)
		doAll(t, h, changes...)
		text, err := session.Write(h.State)
		if err != nil {
			t.Fatal(err)
		}
		back, err := session.Read("a.json", text)
		if err != nil {
			t.Fatal(err)
		}
		h = NewHistory(back)
		as, err := h.As(h.Notes[0].Seen)
		if palette, _ := as.PaletteByID(as.Palette); err != nil || !reflect.DeepEqual(palette, own) {
			t.Errorf("%s: a note is shown with %+v: %v", what, palette, err)
		}
		before := slices.Clone(h.OwnPalettes)
		for _, show := range []Command{ShowDecided{}, ShowNoted{N: 1}} {
			doAll(t, h, Palette{ID: "chrome"}, show)
			palette, _ := h.PaletteByID(h.Palette)
			palette.ID, palette.Name = own.ID, own.Name // perhaps another has its own by now
			if !reflect.DeepEqual(palette, own) {
				t.Errorf("%s: %T works on with %+v", what, show, palette)
			}
		}
		for _, p := range before {
			if now, ok := h.PaletteByID(p.ID); !ok || !reflect.DeepEqual(now, p) {
				t.Errorf("%s: %s was replaced by %+v", what, p.ID, now)
			}
		}
		if len(h.OwnPalettes) > len(before)+1 {
			t.Errorf("%s: it came back twice: %d palettes", what, len(h.OwnPalettes))
		}
	}
}

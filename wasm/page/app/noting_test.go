package app

import (
	"strings"
	"testing"

	"threeply/proof/session"
)

// A click with the tool pins a note where it is seen, chooses it, and the next click is
// none; the note is seen again at that point of the stage, in both pictures.
func TestNoteWhereItIsSeen(t *testing.T) {
	p := opened(t)
	p.do(`{"do":"look","id":"beside"}`)
	p.do(`{"do":"station","id":"review"}`)
	p.do(`{"do":"tool","id":"note"}`)
	frame := p.model().Frames[1]
	x, y := frame.X+frame.W/3, frame.Y+frame.H/4
	p.do(`{"do":"noteAt","x":%g,"y":%g}`, x, y)
	m := p.model()
	if len(m.Notes) != 1 || !m.Notes[0].Chosen || !m.Notes[0].Now || m.Notes[0].State != session.NoteOpen || p.View.Tool != "pan" || !strings.Contains(m.Pulls["review"], "1 note open") {
		t.Fatalf("%+v with the tool %s, %q", m.Notes, p.View.Tool, m.Pulls["review"])
	}
	if len(m.NotePins) != 2 || len(m.NotePins[0]) != 1 || len(m.NotePins[1]) != 1 {
		t.Fatalf("seen at %+v", m.NotePins)
	}
	if at := m.NotePins[1][0]; at.X < x-1 || at.X > x+1 || at.Y < y-1 || at.Y > y+1 {
		t.Errorf("pinned at %g, %g and seen at %g, %g", x, y, at.X, at.Y)
	}
	p.do(`{"do":"noteAt","x":%g,"y":2}`, frame.X+1) // on the paper's margin or beside the picture
	p.do(`{"do":"palette","id":"earth"}`)
	p.do(`{"do":"editNote","n":1,"by":"IM","state":"agreed"}`)
	p.do(`{"do":"noteHere"}`)
	m = p.model()
	if n := len(m.Notes); n != 2 || m.Notes[0].Now || m.Notes[1].By != "IM" || !m.Notes[1].Chosen || m.NoteCounts["agreed"] != 1 {
		t.Fatalf("%d notes: %+v", n, m.Notes)
	}
	p.do(`{"do":"notesList","only":"agreed"}`)
	if m = p.model(); len(m.Notes) != 1 || len(m.NotePins[0]) != 1 || m.Notes[0].N != 1 {
		t.Errorf("listed: %+v", m.Notes)
	}
	p.do(`{"do":"noteGo","n":1}`)
	if m = p.model(); len(m.NotePins[0]) != 1 || !m.NotePins[0][0].Chosen {
		t.Fatalf("gone to: %+v", m.NotePins)
	}
	f := m.Frames[0]
	if at := m.NotePins[0][0]; at.X < f.X || at.X > f.X+f.W || at.Y < f.Y || at.Y > f.Y+f.H {
		t.Errorf("it is seen at %g, %g, off its frame", at.X, at.Y)
	}
	if err := p.Do([]byte(`{"do":"noteGo","n":9}`)); err == nil {
		t.Error("a note that is not there is gone to")
	}
	p.do(`{"do":"station","id":"proof"}`)
	if m = p.model(); len(m.NotePins) != 0 {
		t.Error("notes are seen at another station")
	}
}

// The page shows what was decided, of which print, and which object it is.
func TestDecisionOnThePage(t *testing.T) {
	p := opened(t)
	p.do(`{"do":"station","id":"review"}`)
	p.do(`{"do":"decide","choice":"This one"}`)
	p.do(`{"do":"identify","number":"7"}`)
	p.do(`{"do":"nameFiles","pattern":"{number}-{what}"}`)
	m := p.model()
	if !m.Decision.Now || m.Decision.Seen == "" || m.Identity.Number != "7" || m.NamesLike != "7-proof.png" || len(m.PlatesAre) != 3 || !strings.Contains(m.Pulls["review"], "decided") {
		t.Errorf("%+v, %q, %d plates, %q", m.Decision, m.NamesLike, len(m.PlatesAre), m.Pulls["review"])
	}
	p.do(`{"do":"palette","id":"earth"}`)
	if m = p.model(); m.Decision.Now {
		t.Error("another print is the one decided for")
	}
	p.do(`{"do":"showDecided"}`)
	if m = p.model(); !m.Decision.Now {
		t.Error("the print decided for is not shown")
	}
}

// A click with the hand holds a point where it is seen; it is undone as all else is.
func TestPointWhereItIsSeen(t *testing.T) {
	p := opened(t)
	p.do(`{"do":"look","id":"beside"}`)
	frame := p.model().Frames[1]
	x, y := frame.X+frame.W/3, frame.Y+frame.H/4
	p.do(`{"do":"pointAt","x":%g,"y":%g}`, x, y)
	p.do(`{"do":"pointAt","x":%g,"y":2}`, frame.X+1) // beside the picture
	m := p.model()
	if len(p.Points) != 1 || len(m.Points.Points) != 1 || m.Pulls["points"] != "1 point" {
		t.Fatalf("points %+v, %q", p.Points, m.Pulls["points"])
	}
	if at := m.PointFrames[1][0]; at.X < x-1 || at.X > x+1 || at.Y < y-1 || at.Y > y+1 {
		t.Errorf("held at %g, %g and seen at %g, %g", x, y, at.X, at.Y)
	}
	p.do(`{"do":"undo"}`)
	if m = p.model(); len(m.Points.Points) != 0 {
		t.Errorf("undone, there are %+v", m.Points.Points)
	}
}

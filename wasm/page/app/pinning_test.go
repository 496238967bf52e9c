package app

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"threeply/proof/session"
)

// side opens the plates side by side, in their own size: 240 wide, their middles at 140,
// 400 and 660 of the stage, about the key's 80, 80.
func side(t *testing.T) *page {
	t.Helper()
	p := opened(t)
	p.registered()
	p.do(`{"do":"look","id":"marks"}`)
	p.do(`{"do":"zoom","percent":100}`)
	for f, want := range [3][2]float64{{82.5, 79.5}, {79.5, 79.5}, {79.5, 79.5}} { // the middle of 160 pixels is 79.5
		if p.View.Marking.At[f] != want {
			t.Fatalf("plate %d is looked at about %v, want %v", f, p.View.Marking.At[f], want)
		}
	}
	return p
}

func (p *page) pin(mark, source int) session.Pin {
	p.t.Helper()
	if len(p.Marks) <= mark {
		p.t.Fatalf("there are %d marks", len(p.Marks))
	}
	return p.Marks[mark].At[source]
}

func near(p session.Pin, x, y float64) bool { return p.Set && math.Hypot(p.X-x, p.Y-y) < 1e-9 }

func TestPinAtAPointOfTheStage(t *testing.T) {
	p := side(t)
	p.do(`{"do":"pinAt","x":410,"y":264}`) // 10 to the right of the middle, 5 above
	if !near(p.pin(0, 1), 89.5, 74.5) {
		t.Errorf("the green plate is pinned at %+v", p.pin(0, 1))
	}
	p.do(`{"do":"pinAt","x":136,"y":269}`)
	if len(p.Marks) != 1 || !near(p.pin(0, 0), 82.5, 79.5) {
		t.Errorf("the same mark in the red plate: %+v", p.Marks)
	}
	p.do(`{"do":"pinAt","x":664,"y":269}`) // now all three are settled
	p.do(`{"do":"pinAt","x":400,"y":314}`)
	if len(p.Marks) != 2 || p.Marks[1].N != 2 || p.View.Marking.Mark != 2 {
		t.Errorf("a click after a settled mark begins no new one: %+v", p.Marks)
	}
	m := p.model()
	if m.Undo != "mark" || m.Chosen != 2 || m.Marks.Marks[0].Open || !m.Marks.Marks[1].Open || len(m.Pins.Pins[1]) != 2 {
		t.Errorf("undo %q, chosen %d, pins %v", m.Undo, m.Chosen, m.Pins.Pins)
	}
	p.do(`{"do":"undo"}`)
	if len(p.Marks) != 1 {
		t.Errorf("after one undo there are %d marks", len(p.Marks))
	}
	p.do(`{"do":"pinAt","x":270,"y":255}`) // between the panes
	if len(p.Marks) != 1 {
		t.Error("a click beside the plates pins something")
	}
}

func TestPinHere(t *testing.T) {
	p := side(t)
	p.do(`{"do":"markChoose","filter":"green"}`)
	p.do(`{"do":"pinHere"}`)
	if !near(p.pin(0, 1), 79.5, 79.5) {
		t.Errorf("the middle is pinned at %+v", p.pin(0, 1))
	}
	p.propose(t, `[{"Source":0,"OK":true,"X":83,"Y":80,"Certainty":0.8}]`)
	p.do(`{"do":"pinHere"}`) // it is pinned: confirms
	if p.pin(0, 0).Proposed || p.model().Undo != "confirmed mark" {
		t.Errorf("not confirmed: %+v, undo %q", p.pin(0, 0), p.model().Undo)
	}
	p.do(`{"do":"pinHere"}`) // nothing is left to confirm: lets go
	if p.View.Marking.Mark != 0 {
		t.Error("the mark is not let go")
	}
}

// A pin and what is found from it in the other plates are one step of undo, the next pin another.
func TestPinAndProposalsAreOneStep(t *testing.T) {
	p := side(t)
	steps, _ := p.Steps()
	p.do(`{"do":"markChoose","filter":"green"}`)
	p.do(`{"do":"pinHere"}`)
	p.propose(t, `[{"Source":0,"OK":true,"X":83,"Y":80,"Certainty":0.8},{"Source":2,"OK":true,"X":79,"Y":80,"Certainty":0.8}]`)
	first := p.Marks
	p.do(`{"do":"pinAt","x":136,"y":269}`)
	p.propose(t, `[{"Source":2,"OK":true,"X":81,"Y":82,"Certainty":0.8}]`)
	if now, at := p.Steps(); len(now) != len(steps)+2 || at != len(now)-1 || !near(p.pin(0, 2), 81, 82) {
		t.Fatalf("%d steps before two pins, %d after them", len(steps), len(now))
	}
	p.do(`{"do":"undo"}`)
	if !reflect.DeepEqual(p.Marks, first) {
		t.Errorf("after an undo the marks are %+v, want %+v", p.Marks, first)
	}
	p.do(`{"do":"undo"}`)
	if len(p.Marks) != 0 {
		t.Errorf("after both there are %d marks", len(p.Marks))
	}
}

// propose is a search that found these places.
func (p *page) propose(t *testing.T, places string) {
	t.Helper()
	search := p.Seek()
	if search == nil {
		t.Fatal("nothing is looked for")
	}
	p.must(p.SearchEnded(search.Turn, search.N, []byte(places)))
}

func TestPinsAreMoved(t *testing.T) {
	p := side(t)
	p.do(`{"do":"pinAt","x":136,"y":269}`)
	p.do(`{"do":"zoom","percent":400}`)
	p.do(`{"do":"pinBy","n":1,"filter":"red","dx":8,"dy":-4,"gesture":"a"}`)
	p.do(`{"do":"pinBy","n":1,"filter":"red","dx":8,"dy":-4,"gesture":"a"}`)
	if !near(p.pin(0, 0), 82.5+4, 79.5-2) {
		t.Errorf("dragged by 16 and 8 at 400 %% it is at %+v", p.pin(0, 0))
	}
	p.do(`{"do":"pinBy","stepX":-0.1,"stepY":0,"gesture":"b"}`)
	if !near(p.pin(0, 0), 86.4, 77.5) {
		t.Errorf("a tenth of a pixel to the left is %+v", p.pin(0, 0))
	}
	p.do(`{"do":"undo"}`)
	p.do(`{"do":"undo"}`)
	if !near(p.pin(0, 0), 82.5, 79.5) {
		t.Errorf("a drag is more than one step of undo: %+v", p.pin(0, 0))
	}
	p.do(`{"do":"pinBy","dx":1e9,"dy":0}`)
	if !near(p.pin(0, 0), 159.5, 79.5) {
		t.Errorf("a pin leaves its plate: %+v", p.pin(0, 0))
	}
	p.do(`{"do":"pinBy","n":9,"dx":1}`) // no such mark: nothing
}

func TestSearchesThatAreOvertakenAreDropped(t *testing.T) {
	p := side(t)
	p.do(`{"do":"pinAt","x":400,"y":255}`)
	first := p.Seek()
	if first == nil || len(first.Tries) == 0 || first.N != 1 {
		t.Fatalf("looked for is %+v", first)
	}
	if words := p.model().Marks.Marks[0].Plates[0].Words; words != "being looked for" {
		t.Errorf("meanwhile the red plate says “%s”", words)
	}
	second := p.Seek()
	p.must(p.SearchEnded(first.Turn, 1, []byte(`[{"Source":0,"OK":true,"X":50,"Y":50,"Certainty":0.9}]`)))
	if p.pin(0, 0).Set {
		t.Error("what a later search overtook is proposed")
	}
	p.must(p.SearchEnded(second.Turn, 1, []byte(`[{"Source":0,"OK":true,"X":83,"Y":79,"Certainty":0.9},{"Source":2,"OK":false}]`)))
	if !p.pin(0, 0).Proposed || !near(p.pin(0, 0), 83, 79) || p.pin(0, 2).Set {
		t.Errorf("proposed is %+v", p.Marks[0].At)
	}
	plates := p.model().Marks.Marks[0].Plates
	if !strings.HasPrefix(plates[0].Words, "proposed, sure, 90 %") || plates[2].Words != "not found: pin it by hand" {
		t.Errorf("the plates say “%s” and “%s”", plates[0].Words, plates[2].Words)
	}
	stood := p.Marks[0].At
	p.do(`{"do":"pinAt","x":390,"y":250}`)
	moved := p.Seek()
	p.do(`{"do":"undo"}`)
	p.must(p.SearchEnded(moved.Turn, 1, []byte(`[{"Source":0,"OK":true,"X":60,"Y":60,"Certainty":0.9}]`)))
	if p.Marks[0].At != stood || p.model().Redo != "mark" {
		t.Errorf("what was found from a pin that was taken back is proposed: %+v, and Redo is “%s”", p.Marks[0].At, p.model().Redo)
	}
	third := p.Seek()
	p.do(`{"do":"unpin","n":1}`)
	p.must(p.SearchEnded(third.Turn, 1, []byte(`[{"Source":0,"OK":true,"X":83,"Y":79,"Certainty":0.9}]`)))
	if len(p.Marks) != 0 || p.model().Undo != "mark" {
		t.Errorf("a mark that is gone comes back: %+v", p.Marks)
	}
	if p.Seek() != nil {
		t.Error("no mark is chosen, and one is looked for")
	}
}

package app

import (
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// What a hand moves lies where the commands would lay it, as one step of undo.
func TestGliding(t *testing.T) {
	by, on := opened(t), opened(t)
	const nudge = `{"do":"nudgeBy","printer":"cyan","dxUm":25,"dyUm":-4,"gesture":"g1"}`
	if on.NudgeBy(pigment.Cyan, 25, -4, "g1") {
		t.Error("a nudge goes on that was never begun")
	}
	for i := range 4 {
		by.do(nudge)
		by.do(`{"do":"pan","dx":30,"dy":-7}`)
		if i == 0 {
			on.do(nudge)
		} else if !on.NudgeBy(pigment.Cyan, 25, -4, "g1") {
			t.Fatal("a nudge that was begun does not go on")
		}
		if !on.PanBy(30, -7) {
			t.Fatal("the pictures are not moved")
		}
	}
	if by.Offsets != on.Offsets || by.View.Centre != on.View.Centre || on.Offsets[pigment.Cyan].DX != 100 {
		t.Errorf("moved to %v and %v, want %v and %v", on.Offsets, on.View.Centre, by.Offsets, by.View.Centre)
	}
	if on.NudgeBy(pigment.Cyan, 1e9, 0, "g1") || on.NudgeBy(pigment.Cyan, 1, 0, "g2") {
		t.Error("a layer is moved beyond what can be, or by another gesture")
	}
	on.do(`{"do":"undo"}`)
	if on.Offsets[pigment.Cyan].DX != 0 {
		t.Errorf("one step back the layer lies at %v", on.Offsets[pigment.Cyan])
	}
	if on.NudgeBy(pigment.Cyan, 1, 0, "g1") {
		t.Error("a nudge goes on that was taken back")
	}
}

// A pan or a nudge that follows a hand allocates nothing.
func TestGlidingAllocatesNothing(t *testing.T) {
	p := opened(t)
	p.do(`{"do":"nudgeBy","printer":"cyan","dxUm":1,"dyUm":1,"gesture":"g1"}`)
	panes := make([]view.Pane, 0, 8)
	for _, look := range []string{"beside", "divided", "difference", "plate", "edges"} {
		p.turnTo(look)
		if n := testing.AllocsPerRun(50, func() {
			if !p.PanBy(0.01, 0) || !p.NudgeBy(pigment.Cyan, 0.01, 0, "g1") {
				t.Fatal("nothing is moved")
			}
			panes = p.View.AppendPanes(panes[:0])
			for _, pane := range panes {
				p.View.Covered(pane)
			}
		}); n != 0 {
			t.Errorf("%s: %g allocations a frame", look, n)
		}
	}
}

// BenchmarkGlide moves the pictures and a layer, and lays out the panes, as every frame of a
// drag does.
func BenchmarkGlide(b *testing.B) {
	p := opened(b)
	p.do(`{"do":"nudgeBy","printer":"cyan","dxUm":1,"dyUm":1,"gesture":"g1"}`)
	panes := make([]view.Pane, 0, 8)
	b.ReportAllocs()
	for b.Loop() {
		p.PanBy(0.01, 0)
		p.NudgeBy(pigment.Cyan, 1e-6, 0, "g1")
		panes = p.View.AppendPanes(panes[:0])
	}
}

// BenchmarkControls moves the pictures and makes the model anew, as the page does now and then
// on the way.
func BenchmarkControls(b *testing.B) {
	p := opened(b)
	b.ReportAllocs()
	for b.Loop() {
		p.PanBy(0.01, 0)
		if _, err := p.Model(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkThousandsOfNotes is BenchmarkControls with as many notes as a session can have, in the
// drawer where they are listed and on the pictures.
func BenchmarkThousandsOfNotes(b *testing.B) {
	p := opened(b)
	s := p.State
	w, h := s.Frame()
	for i := range session.MostNotes {
		s.Notes = append(s.Notes, session.Note{N: i + 1, X: float64(i%71) * float64(w-1) / 70, Y: float64(i/71) * float64(h-1) / 70, State: session.NoteOpen, Seen: s.Shown()})
	}
	p.Desk.Open().Replace(s, "opened session")
	p.do(`{"do":"station","id":"review"}`)
	b.ReportAllocs()
	for b.Loop() {
		p.PanBy(0.01, 0)
		if _, err := p.Model(); err != nil {
			b.Fatal(err)
		}
	}
}

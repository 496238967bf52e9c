package app

import (
	"encoding/json"
	"math"
	"testing"

	"threeply/proof/desk"
	"threeply/proof/levels"
	"threeply/proof/session"
)

// wanted is what the desk orders films to be found by.
func (p *page) wanted() (token desk.Token, w levels.Want) {
	p.t.Helper()
	for _, o := range p.Desk.Orders() {
		if work, ok := o.(desk.Work); ok && work.Op == "levels" {
			token, w = work.Token, work.More.(levels.Want)
		}
	}
	if token == 0 {
		p.t.Fatal("no films are ordered")
	}
	return token, w
}

// A click on the picture points at the grey under it, wherever it is shown; the answer
// is one step of undo.
func TestPointingAtGreys(t *testing.T) {
	p := opened(t)
	p.registered()
	p.do(`{"do":"station","id":"plates"}`)
	p.do(`{"do":"tool","id":"grey"}`)
	frames := p.model().Frames
	sx, sy := p.KeyShare(frames[1].X+80, frames[1].Y+60)
	p.do(`{"do":"greyAt","x":%g,"y":%g}`, frames[1].X+80, frames[1].Y+60)
	token, w := p.wanted()
	fw, fh := p.Frame()
	if len(w.Neutral.Greys) != 1 || w.Neutral.By != session.ByGreys || math.Abs(w.Neutral.Greys[0].X-sx*float64(fw-1)) > 1e-6 || math.Abs(w.Neutral.Greys[0].Y-sy*float64(fh-1)) > 1e-6 {
		t.Fatalf("pointed at %g, %g of the key: %+v", sx, sy, w)
	}
	if m := p.model(); len(m.Pointed.Pointed[0]) != 1 || len(m.GreyList) != 1 || m.Undo != "" {
		t.Errorf("while it is read: %+v, undo %q", m.Pointed.Pointed, m.Undo)
	}
	l := levels.Own(&p.State)
	l.Neutral = w.Neutral
	l.Films[0].Gamma = 0.71
	text, err := json.Marshal(l)
	p.must(err)
	p.hear(`{"do":"levels","token":%d,"found":%q}`, token, text)
	m := p.model()
	if m.Undo != "white, black and contrast" || p.Sources[0].Film.Gamma != 0.71 || m.RestsOn.By != session.ByGreys {
		t.Errorf("undo %q, %+v", m.Undo, m.RestsOn)
	}
	p.do(`{"do":"undo"}`)
	if m := p.model(); m.Undo != "" || len(m.GreyList) != 0 {
		t.Errorf("undone: %q, %+v", m.Undo, m.GreyList)
	}
	// Beside the picture nothing is pointed at, and the plates with marks show no key.
	p.do(`{"do":"greyAt","x":%g,"y":2}`, frames[1].X+80)
	p.do(`{"do":"look","id":"marks"}`)
	p.do(`{"do":"greyAt","x":%g,"y":%g}`, frames[0].X+80, frames[0].Y+60)
	for _, o := range p.Desk.Orders() {
		if work, ok := o.(desk.Work); ok && work.Op == "levels" {
			t.Errorf("read was %+v", work.More)
		}
	}
	if p.do(`{"do":"tool","id":"grey"}`); p.View.Look != "beside" {
		t.Errorf("greys are pointed at in the look %q", p.View.Look)
	}
	if p.do(`{"do":"station","id":"proof"}`); p.View.Tool != "pan" {
		t.Errorf("the pointer still points at greys where nobody asked for it: %q", p.View.Tool)
	}
}

// A line is drawn along a scale in the picture in which it began, and ends at its edge
// at the latest.
func TestDrawingAlongAScale(t *testing.T) {
	p := opened(t)
	p.registered()
	p.do(`{"do":"station","id":"plates"}`)
	f := p.model().Frames[0]
	p.do(`{"do":"rule","x0":%g,"y0":%g,"x1":%g,"y1":%g}`, f.X+20, f.Y+30, f.X+f.W+300, f.Y+30)
	if m := p.model(); m.Rule == nil || m.Rule.X0 != f.X+20 || len(m.Proposed) != 2 || len(m.Proposed[0]) != 3 {
		t.Errorf("the line being drawn is %+v, proposed are %+v", m.Rule, m.Proposed)
	}
	p.do(`{"do":"scaleAt","x0":%g,"y0":%g,"x1":%g,"y1":%g}`, f.X+20, f.Y+30, f.X+f.W+300, f.Y+30)
	_, w := p.wanted()
	fw, _ := p.Frame()
	if w.Line == nil || w.Neutral.By != session.ByScale || w.Line[1].X != float64(fw-1) || math.Abs(w.Line[0].Y-w.Line[1].Y) > 1e-9 || w.Line[0].X > 100 {
		t.Errorf("%+v, %+v", w.Neutral, w.Line)
	}
	if p.model().Rule != nil {
		t.Error("the line is still drawn")
	}

	// By keys the line begins and ends under the cross in the middle, and the picture is moved.
	p.do(`{"do":"tool","id":"scale"}`)
	p.do(`{"do":"zoom","percent":300}`)
	f = p.model().Frames[0]
	x, y := f.X+f.W/2, f.Y+f.H/2
	p.do(`{"do":"scaleHere","x":%g,"y":%g}`, x, y)
	p.do(`{"do":"scaleHere","x":%g,"y":%g}`, x, y) // at the same place it goes on
	p.do(`{"do":"pan","dx":-30,"dy":0}`)
	if r := p.model().Rule; r == nil || math.Abs(r.X1-r.X0-30) > 1 || math.Abs(r.X1-x) > 1 || math.Abs(r.Y0-r.Y1) > 1 {
		t.Errorf("after the picture was moved by 30 the line is %+v", r)
	}
	p.do(`{"do":"scaleHere","x":%g,"y":%g}`, x, y)
	if _, w := p.wanted(); w.Line == nil || math.Abs(w.Line[1].X-w.Line[0].X-30*p.View.Stage.Ratio/3) > 0.5 || p.model().Rule != nil {
		t.Errorf("moved by 10 pixels of the key, the line is %+v", w.Line)
	}
	p.do(`{"do":"scaleHere","x":%g,"y":%g}`, x, y)
	if p.do(`{"do":"tool","id":"pan"}`); p.model().Rule != nil {
		t.Error("a line that was let go is still drawn")
	}
}

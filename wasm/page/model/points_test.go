package model

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/wasm/page/view"
)

// A held point is read in the pictures that are compared, whichever was clicked, and what
// is said of it is what the reading of the same pixel says.
func TestPointsAreRead(t *testing.T) {
	d := patches(t)
	d.look(view.ReadColours{X: 200, Y: 250})
	at := d.View.Reading
	d.Session.Points = []session.Point{{N: 1, Source: d.Session.KeySource(), X: at[0], Y: at[1]}}
	m := d.maker.Make(d.Input)
	if len(m.Points.Points) != 1 || len(m.PointFrames) != 2 || len(m.PointFrames[0]) != 1 || len(m.PointFrames[1]) != 1 {
		t.Fatalf("points %+v, in frames %v", m.Points.Points, m.PointFrames)
	}
	p, s := m.Points.Points[0], m.Sample
	if p.X != s.X || p.Y != s.Y || len(p.Colours) != 2 || p.Colours[0].ID != "reference" || p.Colours[1].ID != "print" {
		t.Fatalf("the point is %+v, read is %+v", p, s)
	}
	for i, want := range []spectrum.Lab{s.Reference, s.Print} {
		if d := spectrum.DeltaE00(p.Colours[i].Lab, want); d > 1e-9 {
			t.Errorf("%s is %v, want %v", p.Colours[i].ID, p.Colours[i].Lab, want)
		}
	}
	if p.Colours[0].DE != 0 || math.Abs(p.Colours[1].DE-s.DE) > 1e-9 || len(p.Prints) != 1 || p.Prints[0].Visual != s.Visual || p.Prints[0].Um["cyan"] != s.Um["cyan"] {
		t.Fatalf("ΔE00 %g, %+v; want %g, %g, %v", p.Colours[1].DE, p.Prints, s.DE, s.Visual, s.Um)
	}
	if len(p.Prints[0].Spectrum) != len(spectrum.Curve{}) || !strings.Contains(p.Prints[0].Reach, "printed") {
		t.Errorf("a spectrum of %d values, “%s”", len(p.Prints[0].Spectrum), p.Prints[0].Reach)
	}
	if peeked := Peek(d.Input, 1e9, -3); len(peeked.Colours) != 2 {
		t.Errorf("off the picture it reads %+v", peeked)
	}
	// A held print is read as itself: its own tissues, on its own paper.
	was := *d.Session
	other := was
	other.Palette, other.Paper, other.Order = "earth", "rag", "cmy"
	d.Session.Held = append(d.Session.Held, other.Hold("Earth"))
	d.look(view.PutSide{Which: "left", ID: view.HeldSide(1)})
	held := d.maker.Make(d.Input).Points.Points[0].Prints
	told := d.maker.Make(d.Input).Compared
	d.take(&other)
	if key := d.maker.Make(d.Input).PictureKey; len(told) != 1 || told[0].Which != "left" || told[0].Name != "Earth" || told[0].Masked || told[0].Key != key {
		t.Errorf("compared is %+v, and its key alone %s", told, key)
	}
	d.look(view.PutSide{Which: "left", ID: view.SideReference})
	alone := d.maker.Make(d.Input).Points.Points[0].Prints
	if len(held) != 2 || held[0].Label != "Earth" || held[1].Visual != s.Visual || len(alone) != 1 ||
		held[0].Visual != alone[0].Visual || !maps.Equal(held[0].Um, alone[0].Um) || !slices.Equal(held[0].Spectrum, alone[0].Spectrum) || held[0].Visual == held[1].Visual ||
		held[0].Reach != alone[0].Reach || !strings.Contains(held[0].Reach, "printed") || held[1].Reach != p.Prints[0].Reach {
		t.Errorf("a held print is read as %+v, by itself as %+v", held, alone)
	}
	d.take(&was)
	d.look(view.TakeLook{ID: "sure"})
	if got := d.maker.Make(d.Input).Points.Points[0].Colours; len(got) != 3 || got[0].ID != "lighter" || !(got[0].Lab[0] >= got[2].Lab[0]) {
		t.Errorf("of lighter, likely and heavier it reads %+v", got)
	}
	d.look(view.TakeLook{ID: "edges"})
	d.Session.Points = nil
	if m := d.maker.Make(d.Input); len(m.Points.Points) != 0 {
		t.Error("a point that was let go is still read")
	}
}

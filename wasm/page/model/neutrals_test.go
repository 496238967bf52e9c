package model

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/levels"
	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// Greys lie on the picture where they were pointed at, in every frame, and only at the
// station where they are worked at.
func TestGreysLieOnThePicture(t *testing.T) {
	d := patches(t)
	d.look(view.GoToStation{ID: "plates"})
	frames := d.maker.Make(d.Input).Frames
	v := d.View
	p := v.Panes()[0]
	x, y := frames[0].X+frames[0].W/3, frames[0].Y+frames[0].H/4
	kx, ky := v.PixelAt(p, x, y)
	d.Levels.Greys = session.Neutral{By: session.ByGreys, Key: d.Session.Key, Greys: []session.Spot{{X: kx, Y: ky}, {X: -500, Y: 3}}}
	m := d.maker.Make(d.Input)
	if len(m.Pointed.Pointed) != 2 || len(m.Pointed.Pointed[0]) != 1 || len(m.Pointed.Pointed[1]) != 1 {
		t.Fatalf("the greys of the frames are %+v", m.Pointed.Pointed)
	}
	for i, g := range [2]view.PaneGrey{m.Pointed.Pointed[0][0], m.Pointed.Pointed[1][0]} {
		if math.Abs(g.X-(x+frames[i].X-frames[0].X)) > 0.02 || math.Abs(g.Y-y) > 0.02 || g.N != 1 {
			t.Errorf("in frame %d the grey lies at %+v, pointed at %g, %g", i, g, x, y)
		}
	}
	if len(m.GreyList) != 2 || m.GreyList[1].N != 2 {
		t.Errorf("the list is %+v", m.GreyList)
	}
	d.look(view.GoToStation{ID: "proof"})
	if m := d.maker.Make(d.Input); len(m.Pointed.Pointed) != 0 {
		t.Errorf("greys are seen elsewhere: %+v", m.Pointed.Pointed)
	}
}

// What films rest on is said, and what the tool saw is proposed until it is in use.
func TestWhatFilmsRestOn(t *testing.T) {
	d := patches(t)
	scale := session.Neutral{By: session.ByScale, Key: "green", Greys: []session.Spot{{X: 1, Y: 1}, {X: 2, Y: 1}, {X: 3, Y: 1}}}
	d.Levels.Scale = &levels.Levels{Neutral: scale}
	for _, c := range []struct {
		neutral  session.Neutral
		demo     bool
		words    string
		proposed int
	}{
		{session.Neutral{}, false, "left to chance", 3},
		{session.Neutral{By: session.ByOwn}, false, "left to chance", 3},
		{session.Neutral{By: session.ByLight, Light: "grey-world"}, false, "grey world: the scene is grey on the average.", 3},
		{session.Neutral{By: session.ByGreys, Greys: scale.Greys[:1]}, false, "one grey", 3},
		{session.Neutral{By: session.ByGreys, Greys: scale.Greys[:2]}, false, "2 greys", 3},
		{scale, false, "grey scale of 3 steps that lies in the picture.", 0},
		{scale, true, "taken by itself", 0},
		{session.Neutral{By: session.ByHand}, false, "figures that you set", 3},
	} {
		d.Session.Neutral, d.Levels.Demo = c.neutral, c.demo
		m := d.maker.Make(d.Input)
		if !strings.Contains(m.RestsOn.Words, c.words) || m.ScaleFound != c.proposed {
			t.Errorf("%+v: “%s”, %d steps proposed", c.neutral, m.RestsOn.Words, m.ScaleFound)
		}
	}
}

// The key of the audit changes with what the audit stands on, and not with the rest.
func TestAuditKey(t *testing.T) {
	d := patches(t)
	key := func() string { return d.maker.Make(d.Input).AuditKey }
	was := key()
	d.Session.Title, d.Session.Offsets[0].DX = "other", 20
	if key() != was {
		t.Error("the audit is made anew for what it does not stand on")
	}
	for name, change := range map[string]func(){
		"a film":      func() { d.Session.Sources[1].Film.White += 0.2 },
		"a grey":      func() { d.Session.Neutral.Greys = []session.Spot{{X: 4, Y: 4}} },
		"register":    func() { d.Session.Found[0].Matrix[2] += 2 },
		"the width":   func() { d.Session.PrintWidth = 123 },
		"the key":     func() { d.Session.Key = "red" },
		"another set": func() { d.Opened++ },
		"the way":     func() { d.Session.Way.Straight = true },
		"masks":       func() { d.Session.Masked = true },
		"sharpness":   func() { d.Levels.Blur[2] = 2 },
	} {
		was := key()
		change()
		if key() == was {
			t.Errorf("%s changed, the audit is kept", name)
		}
	}
}

package model

import (
	"threeply/proof/pigment"
	"threeply/wasm/page/view"
)

// Looking is how the pictures are looked at.
type Looking struct {
	Look      string       `json:"look"`
	Stack     bool         `json:"stack"`  // the drawing of the stack lies open
	Cut       bool         `json:"cut"`    // beside it the section
	Paused    bool         `json:"paused"` // pictures by turns stand
	Room      bool         `json:"room"`   // the pictures alone are shown
	Tool      string       `json:"tool"`
	Selected  string       `json:"selected"`
	Hidden    []string     `json:"hidden"`
	Layer     string       `json:"layer"`
	Other     string       `json:"other"`   // id of the palette of the look "palettes"
	AtLeft    string       `json:"atLeft"`  // what stands at the left where two are compared
	AtRight   string       `json:"atRight"` // and at the right
	Sides     []Side       `json:"sides"`   // all that can stand there
	Held      []Held       `json:"held"`
	Edges     [2]int       `json:"edges"`
	PlatePair [2]int       `json:"platePair"` // printers of the plates that are looked at
	Zoom      float64      `json:"zoom"`
	Fitted    bool         `json:"fitted"`
	Whole     bool         `json:"whole"`    // the plates' borders are shown too
	Contrast  bool         `json:"contrast"` // enlarged plates are drawn in full contrast
	Editing   view.Editing `json:"editing"`
}

// Side is what can stand at a side.
type Side struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	But  bool   `json:"but"` // it is the print but for one thing
}

// Held is a held print, and whether it is the print that is worked on.
type Held struct {
	N    int    `json:"n"`
	Name string `json:"name"`
	Says string `json:"says"` // what it is, in one line
	Now  bool   `json:"now"`
}

func onLooking(in Input) Looking {
	v := in.View
	l := Looking{
		Look: v.Look, Stack: v.Stack, Cut: v.Cut, Room: v.Room, Paused: v.Paused, Tool: v.Tool, Selected: v.Selected, Hidden: []string{}, Layer: v.Layer, Other: v.OtherPalette(in.Session), Edges: v.Edges, PlatePair: v.Plates,
		Zoom: v.ZoomSaid(), Fitted: v.Fitted, Whole: v.Borders, Contrast: v.Contrast, Editing: v.Editing,
	}
	l.AtLeft, l.AtRight, l.Held = v.Left, v.Right, []Held{}
	l.Sides = []Side{{view.SideReference, "Reference", false}, {view.SidePrint, "Print, as it is now", false}}
	now := in.Session.Shown().Words
	for i := range in.Session.Held {
		h := &in.Session.Held[i]
		l.Sides = append(l.Sides, Side{view.HeldSide(h.N), h.Name, false})
		l.Held = append(l.Held, Held{h.N, h.Name, h.Seen.Words, h.Seen.Words == now})
	}
	for _, but := range in.Session.Buts() {
		l.Sides = append(l.Sides, Side{view.ButSide(but.What, but.ID), but.Name, true})
	}
	for p, hidden := range in.Session.Hidden {
		if hidden {
			l.Hidden = append(l.Hidden, pigment.Printer(p).String())
		}
	}
	return l
}

package model

import (
	"threeply/proof/pigment"
	"threeply/wasm/page/view"
)

// Looking is how the pictures are looked at.
type Looking struct {
	Look      string       `json:"look"`
	Stack     bool         `json:"stack"` // the drawing of the stack lies open
	Cut       bool         `json:"cut"`   // beside it the section
	Tool      string       `json:"tool"`
	Selected  string       `json:"selected"`
	Hidden    []string     `json:"hidden"`
	Layer     string       `json:"layer"`
	Other     string       `json:"other"` // id of the palette of the look "palettes"
	Edges     [2]int       `json:"edges"`
	PlatePair [2]int       `json:"platePair"` // printers of the plates that are looked at
	Zoom      float64      `json:"zoom"`
	Fitted    bool         `json:"fitted"`
	Whole     bool         `json:"whole"`    // the plates' borders are shown too
	Contrast  bool         `json:"contrast"` // enlarged plates are drawn in full contrast
	Editing   view.Editing `json:"editing"`
}

func onLooking(in Input) Looking {
	v := in.View
	l := Looking{
		Look: v.Look, Stack: v.Stack, Cut: v.Cut, Tool: v.Tool, Selected: v.Selected, Hidden: []string{}, Layer: v.Layer, Other: v.OtherPalette(in.Session), Edges: v.Edges, PlatePair: v.Plates,
		Zoom: v.ZoomSaid(), Fitted: v.Fitted, Whole: v.Borders, Contrast: v.Contrast, Editing: v.Editing,
	}
	for p, hidden := range in.Session.Hidden {
		if hidden {
			l.Hidden = append(l.Hidden, pigment.Printer(p).String())
		}
	}
	return l
}

package model

import (
	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// Loupe is the three plates enlarged beside the pointer.
type Loupe struct {
	Loupe LoupeBox `json:"loupe"`
}

// LoupeBox is the box about the loupe's panes.
type LoupeBox struct {
	On    bool    `json:"on"`
	Zoom  float64 `json:"zoom"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
	W     float64 `json:"w"`
	H     float64 `json:"h"`
	Panes []Frame `json:"panes"` // empty where the loupe is not shown
}

type loupeOn struct {
	view    view.View
	session session.State // see layingOf
}

func onLoupe(in Input) loupeOn {
	on := loupeOn{panesOf(in.View), layingOf(in.Session)}
	on.view.Loupe = in.View.Loupe
	return on
}

func makeLoupe(on loupeOn) Loupe {
	out := LoupeBox{On: on.view.Loupe.On, Zoom: on.view.Loupe.Zoom, Panes: []Frame{}}
	panes, box := on.view.LoupePanes(&on.session)
	out.X, out.Y, out.W, out.H = box.X, box.Y, box.W, box.H
	for _, p := range panes {
		out.Panes = append(out.Panes, Frame{ID: p.ID, Label: p.Label, X: p.X, Y: p.Y, W: p.W, H: p.H})
	}
	return Loupe{out}
}

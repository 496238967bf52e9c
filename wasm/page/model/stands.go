package model

import (
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// What parts stand on of the session and of the view. Every one of these functions
// gives a copy without what the parts have no use for, so that a change of that makes
// nothing anew.

// geometryOf is all of a session that says where plates and layers lie and how sure
// that is.
func geometryOf(s *session.State) session.State {
	g := *s
	g.Title, g.Layout, g.Split, g.Hidden = "", "", false, [3]bool{}
	g.OwnPalettes, g.OwnPapers, g.Sight, g.Printed, g.TestSheet = nil, nil, nil, nil, ""
	g.Palette, g.Order, g.Paper, g.Finish, g.Light, g.Route = "", "", "", "", "", ""
	g.OwnRoute = nil
	g.Dim, g.Masked, g.Limit, g.Section = false, false, 0, session.Line{}
	g.Way, g.Unknowns, g.Neutral = relief.Way{}, nil, session.Neutral{}
	g.Negatives, g.Workshop = nil, nil
	g.Identity, g.PlateIdentities, g.Notes, g.Points, g.Decision, g.Names = session.Identity{}, [3]session.PlateIdentity{}, nil, nil, session.Decision{}, ""
	return g
}

// layingOf is all of a session that says where plates and layers lie, and through which
// films their densities are read.
func layingOf(s *session.State) session.State {
	g := geometryOf(s)
	g.Bench, g.ViewingDist, g.Tolerance, g.Locked, g.Outvoted, g.Tones = "", 0, 0, [3]bool{}, [3]float64{}, [3]float64{}
	return g
}

// panesOf is all of a view that says where the panes lie and what they show.
func panesOf(v *view.View) view.View {
	g := *v
	g.Station, g.Stack, g.Tool, g.Selected, g.Editing, g.Board, g.Hue = "", false, "", "", view.Editing{}, view.Board{}, nil
	g.Filled = nil
	g.Room, g.Paused = false, false
	g.Reading, g.Rule, g.From, g.Contrast, g.Loupe, g.Noting = nil, nil, nil, false, view.Loupe{}, view.Noting{}
	return g
}

// open tells whether plates are open.
func open(s *session.State) bool { return s.Sources[0].W > 0 }

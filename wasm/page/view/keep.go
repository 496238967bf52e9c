package view

import (
	"encoding/json"
	"fmt"
	"slices"

	"threeply/proof/session"
	"threeply/proof/strict"
)

// Keep writes what is worth coming back to after a reload.
func (v *View) Keep() json.RawMessage {
	out, err := json.Marshal(v)
	if err != nil { // a number that is none: the next view is kept
		return nil
	}
	return out
}

// Recall takes up what Keep wrote, for the session that is open. What an older or a
// newer page kept is taken as far as it is known. On an error nothing changes.
func (v *View) Recall(text []byte, s *session.State) error {
	was := New()
	if err := (strict.Reader{KeepMissing: true, PassUnknown: true}).Read(text, was); err != nil {
		return err
	}
	if was.Tool == "sample" { // points were once read with a tool of their own
		was.Tool = "pan"
	}
	if err := was.check(); err != nil {
		return err
	}
	was.Filled = was.Filled.sound()
	was.Stage = v.Stage
	was.Follow(s)
	if was.Fitted {
		was.fit()
	} else {
		was.Zoom = was.between(was.Zoom)
		was.hold()
	}
	if was.Look == "marks" && open(s) {
		was.meetAt(s, was.Centre[0], was.Centre[1])
	}
	*v = *was
	return nil
}

// check refuses what no command could have brought about.
func (v *View) check() error {
	_, noLayer := layerIndex(v.Layer)
	_, noSelected := layerIndex(v.Selected)
	switch {
	case !isStation(v.Station), !isLook(v.Look), !slices.Contains(Tools, v.Tool), noLayer != nil, v.Selected != "" && noSelected != nil:
		return fmt.Errorf("there is no such station, look, tool or layer as %q, %q, %q, %q", v.Station, v.Look, v.Tool, v.Layer)
	case !isPair(v.Edges) || !isPair(v.Plates):
		return fmt.Errorf("there are no such layers as %v or %v", v.Edges, v.Plates)
	case !isNoteState(v.Noting.Only):
		return fmt.Errorf("no note is “%s”", v.Noting.Only)
	case !isOrder(v.Board.By):
		return fmt.Errorf("the board cannot be sorted by “%s”", v.Board.By)
	case !session.Within(v.Divider, leastShare, mostShare), !session.Within(v.Loupe.Zoom, leastLoupeZoom, mostLoupeZoom),
		!session.Within(v.Marking.Zoom, 0.01, mostMarkZoom), !session.Within(v.Zoom, 1e-6, 1e6), v.Hue != nil && !session.Within(*v.Hue, 0, 360):
		return fmt.Errorf("a divider, a zoom or a hue lies beyond its range")
	}
	return nil
}

func isPair(p [2]int) bool { return min(p[0], p[1]) >= 0 && max(p[0], p[1]) <= 2 }

func isOrder(id string) bool {
	return slices.ContainsFunc(Orders, func(o Order) bool { return o.ID == id })
}

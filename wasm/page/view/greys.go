package view

import (
	"threeply/proof/filter"
	"threeply/proof/place"
	"threeply/proof/session"
)

// PaneGrey is a grey of the scene in a pane, at a point of the stage.
type PaneGrey struct {
	N int     `json:"n"` // its number in the list, from 1
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// RuleByKeys is the line along a scale that is drawn by keys, from where it began to the
// middle of the first pane, points of the stage; nil where none is.
func (v *View) RuleByKeys() *[4]float64 {
	panes := v.Panes()
	if v.From == nil || len(panes) == 0 {
		return nil
	}
	toStage, ok := v.ToPixel(panes[0]).Inverse()
	if !ok {
		return nil
	}
	x0, y0 := v.OnStage(toStage.Apply(v.From[0], v.From[1]))
	seen := v.Covered(panes[0])
	x1, y1 := v.OnStage(float64(seen.Min.X+seen.Max.X-1)/2, float64(seen.Min.Y+seen.Max.Y-1)/2)
	return &[4]float64{x0, y0, x1, y1}
}

// Greys places greys in a pane, given in pixels of the key. Those beyond what the
// pane shows are left out.
func (v *View) Greys(s *session.State, p Pane, greys []session.Spot) []PaneGrey {
	out := []PaneGrey{}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok {
		return out
	}
	covered := v.Covered(p)
	for i, at := range greys {
		x, y := at.X, at.Y
		if p.OwnFrame {
			x, y = place.Plate(s, s.Assign[filter.Of(p.Plate)]).Apply(x, y)
		}
		if x, y = toStage.Apply(x, y); !within(covered, x, y) {
			continue
		}
		x, y = v.OnStage(x, y)
		out = append(out, PaneGrey{i + 1, hundredth(x), hundredth(y)})
	}
	return out
}

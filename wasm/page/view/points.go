package view

import (
	"slices"

	"threeply/proof/place"
	"threeply/proof/session"
)

// Point is one of the session's points.
type Point struct {
	N    int
	X, Y float64 // in pixels of the key
}

// Points are the session's points that lie on the key plate.
func Points(s *session.State) []Point {
	var out []Point
	w, h := s.Frame()
	for _, p := range s.Points {
		x, y, ok := place.OnKey(s, p.Source, p.X, p.Y)
		if ok && x > -0.5 && y > -0.5 && x < float64(w)-0.5 && y < float64(h)-0.5 {
			out = append(out, Point{p.N, x, y})
		}
	}
	return out
}

// GoToPoint brings a point into the middle.
type GoToPoint struct {
	N int `json:"n"`
}

func (c GoToPoint) apply(v *View, on Subject) error {
	for _, p := range Points(on.State) {
		if p.N == c.N {
			v.Reading = &[2]float64{p.X, p.Y}
			v.goTo(p.X, p.Y)
		}
	}
	return nil
}

// PointsIn places points in a pane of the key's pixels. Those beyond what it shows are left
// out.
func (v *View) PointsIn(p Pane, points []Point) []PaneGrey {
	out := []PaneGrey{}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok || p.OwnFrame {
		return out
	}
	covered := v.Covered(p)
	for _, point := range points {
		x, y := toStage.Apply(point.X, point.Y)
		if !within(covered, x, y) {
			continue
		}
		x, y = v.OnStage(x, y)
		out = append(out, PaneGrey{point.N, hundredth(x), hundredth(y)})
	}
	return out
}

// ReadPanes are the pictures whose colours are read at a point: those that are compared,
// or the reference and the print where maps or plates are looked at.
func (v *View) ReadPanes() []Pane {
	left, right := v.sides(v.room())
	if v.Compares() {
		return []Pane{left, right}
	}
	shown := slices.DeleteFunc(v.Panes(), func(p Pane) bool {
		return p.Shows != ShowsPrint && p.Shows != ShowsReference || p.Only != ""
	})
	if len(shown) > 0 {
		return shown
	}
	return []Pane{
		{ID: SideReference, Label: "Reference", Shows: ShowsReference},
		{ID: SidePrint, Label: "Likely print", Shows: ShowsPrint},
	}
}

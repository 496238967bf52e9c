package view

import (
	"fmt"
	"slices"

	"threeply/proof/session"
)

// Point is a place of the picture whose colours are read, until it is let go.
type Point struct {
	N int     `json:"n"` // its number, from 1
	X float64 `json:"x"` // in pixels of the key
	Y float64 `json:"y"`
}

// MostPoints bounds the points: more cannot be told apart on a picture.
const MostPoints = 20

type (
	// HoldPoint holds a point under a point of the stage.
	HoldPoint struct {
		X float64 `json:"x"`
		Y float64 `json:"y"`
	}
	// DropPoint lets a point go; 0 lets all go.
	DropPoint struct {
		N int `json:"n,omitempty"`
	}
	// GoToPoint brings a point into the middle.
	GoToPoint struct {
		N int `json:"n"`
	}
)

func (c HoldPoint) apply(v *View, on Subject) error {
	if err := ReadColours(c).apply(v, on); err != nil || v.Reading == nil {
		return err
	}
	if len(v.Points) >= MostPoints {
		return fmt.Errorf("%d points are held already: let one go first", MostPoints)
	}
	n := 1
	for slices.ContainsFunc(v.Points, func(p Point) bool { return p.N == n }) {
		n++
	}
	v.Points = append(slices.Clone(v.Points), Point{n, v.Reading[0], v.Reading[1]})
	slices.SortFunc(v.Points, func(a, b Point) int { return a.N - b.N })
	return nil
}

func (c DropPoint) apply(v *View, _ Subject) error {
	v.Points = slices.DeleteFunc(slices.Clone(v.Points), func(p Point) bool { return c.N == 0 || p.N == c.N })
	v.Reading = nil
	return nil
}

func (c GoToPoint) apply(v *View, on Subject) error {
	i := slices.IndexFunc(v.Points, func(p Point) bool { return p.N == c.N })
	if i < 0 {
		return nil
	}
	v.Reading = &[2]float64{v.Points[i].X, v.Points[i].Y}
	v.goTo(v.Points[i].X, v.Points[i].Y)
	return nil
}

// followPoints lets go of points that lie off the picture.
func (v *View) followPoints(s *session.State) {
	w, h := s.Frame()
	off := func(p Point) bool { return !(p.X >= 0 && p.Y >= 0 && p.X <= float64(w-1) && p.Y <= float64(h-1)) }
	if slices.ContainsFunc(v.Points, off) {
		v.Points = slices.DeleteFunc(slices.Clone(v.Points), off)
	}
}

// PointsIn places the points in a pane of the key's pixels. Those beyond what it shows
// are left out.
func (v *View) PointsIn(p Pane) []PaneGrey {
	out := []PaneGrey{}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok || p.OwnFrame {
		return out
	}
	covered := v.Covered(p)
	for _, point := range v.Points {
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

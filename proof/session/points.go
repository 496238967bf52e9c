package session

import (
	"fmt"
	"slices"
)

// Point is a place of the picture whose colours are read in every print that is compared,
// until it is let go.
type Point struct {
	N      int     `json:"n"`                    // its number, from 1
	Source int     `json:"source" like:"assign"` // the plate that X and Y are pixels of
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
}

// MostPoints bounds the points: more cannot be told apart on a picture.
const MostPoints = 20

// NextPoint is the number that the next point gets: the first that is free.
func (s *State) NextPoint() int {
	n := 1
	for slices.ContainsFunc(s.Points, func(p Point) bool { return p.N == n }) {
		n++
	}
	return n
}

func (s *State) checkPoints() *Fault {
	if n := len(s.Points); n > MostPoints {
		return fault("points", "%d points: there can be %d", n, MostPoints)
	}
	seen := map[int]bool{}
	for i, p := range s.Points {
		at, src := fmt.Sprintf("points[%d]", i), s.Sources[p.Source]
		switch {
		case seen[p.N]:
			return fault(at+".n", "two points have the number %d", p.N)
		case !Within(p.X, -0.5, float64(src.W)-0.5) || !Within(p.Y, -0.5, float64(src.H)-0.5):
			return fault(at, "point %d at %.0f, %.0f lies off %s", p.N, p.X, p.Y, src.File)
		}
		seen[p.N] = true
	}
	return nil
}

package verdict

import (
	"math"

	"threeply/proof/mark"
	"threeply/proof/place"
	"threeply/proof/session"
)

// Marks is what the marks alone make of a plate, beside what was found or
// set by hand.
type Marks struct {
	N        int       // marks pinned in the key and in the plate
	Kind     mark.Kind // how free the map was
	Err      error     // why there is no map; the rest is then 0
	Centre   float64   // how far the two maps lie apart, in pixels of the plate:
	Corner   float64   // at the key's centre, and at the corner where it is most
	Residual float64   // root mean square of what the marks leave by themselves, pixels of the plate
	Strain   float64   // what an error of one pixel at each pin makes at that corner that it makes most of (mark.Strain)
	Spare    bool      // there are more marks than the map needs, so that Residual tells something
}

// OfMarks compares what the marks give of source i with what was found.
func OfMarks(s *session.State, i int) Marks {
	marks, found := place.MarksOf(s, i), place.Found(s, i)
	say := Marks{N: len(marks)}
	fit, err := mark.Solve(marks, found)
	if err != nil {
		say.Err = err
		return say
	}
	say.Kind, say.Spare = fit.Kind, len(marks) > 3
	for _, r := range fit.Residual {
		say.Residual += r * r / float64(len(marks))
	}
	say.Residual = math.Sqrt(say.Residual)
	w, h := s.Frame()
	apart := func(x, y float64) float64 {
		ax, ay := fit.Matrix.Apply(x, y)
		bx, by := found.Apply(x, y)
		return math.Hypot(ax-bx, ay-by)
	}
	right, bottom := float64(w-1), float64(h-1)
	say.Centre = apart(right/2, bottom/2)
	for _, c := range [4][2]float64{{0, 0}, {right, 0}, {0, bottom}, {right, bottom}} {
		say.Corner = max(say.Corner, apart(c[0], c[1]))
		say.Strain = max(say.Strain, mark.Strain(marks, c[0], c[1]))
	}
	return say
}

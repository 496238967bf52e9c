package session

import (
	"math"

	"threeply/proof/mark"
)

// MarksSay is what the marks alone make of a plate, beside what was found or
// set by hand.
type MarksSay struct {
	N        int       // marks pinned in the key and in the plate
	Kind     mark.Kind // how free the map was
	Err      error     // why there is no map; the rest is then 0
	Centre   float64   // how far the two maps lie apart, in pixels of the plate:
	Corner   float64   // at the key's centre, and at the corner where it is most
	Residual float64   // root mean square of what the marks leave by themselves, pixels of the plate
	Strain   float64   // what an error of one pixel at each pin makes at that corner that it makes most of (mark.Strain)
	Spare    bool      // there are more marks than the map needs, so that Residual tells something
}

// MarksSay compares what the marks give of source i with what was found.
func (s *State) MarksSay(i int) MarksSay {
	marks, found := s.MarksOf(i), s.found(i)
	say := MarksSay{N: len(marks)}
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

// MarkResidual is how far the present map puts mark m beside its pin in source
// i, in pixels of the source; ok is false where it is not pinned there and in
// the key.
func (s *State) MarkResidual(m Pinned, i int) (px float64, ok bool) {
	key, pin := m.At[s.KeySource()], m.At[i]
	if !key.Set || !pin.Set || i == s.KeySource() {
		return 0, false
	}
	x, y := s.Register(i).Apply(key.X, key.Y)
	return math.Hypot(x-pin.X, y-pin.Y), true
}

// Laid tells whether every plate has a place against the key: found, set by
// hand, or given by marks. Whether it can be trusted is another question.
func (s *State) Laid() bool {
	for i := range s.Sources {
		if s.Way(i) == WayNone {
			return false
		}
	}
	return true
}

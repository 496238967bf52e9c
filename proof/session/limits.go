package session

import (
	"fmt"

	"threeply/proof/words"
)

// Range is the least and the largest value that can be set.
type Range [2]float64

func (r Range) holds(v float64) bool { return Within(v, r[0], r[1]) }

// Ranges are those of the lengths that the verdict on register rests on.
type Ranges struct {
	PrintWidth  Range `json:"printWidthMm"`
	ViewingDist Range `json:"viewingMm"`
	Tolerance   Range `json:"toleranceUm"` // or 0 for none
}

// LengthRanges returns what a session takes.
func LengthRanges() Ranges {
	return Ranges{PrintWidth: Range{10, 5000}, ViewingDist: Range{50, 20000}, Tolerance: Range{1, 10000}}
}

// checkLengths holds the state to its ranges.
func (s *State) checkLengths() error {
	r := LengthRanges()
	if !r.PrintWidth.holds(s.PrintWidth) {
		return fmt.Errorf("a print %g mm wide: %g to %g mm can be set", s.PrintWidth, r.PrintWidth[0], r.PrintWidth[1])
	}
	if !r.ViewingDist.holds(s.ViewingDist) {
		return fmt.Errorf("a viewing distance of %g mm: %g mm to %s can be set", s.ViewingDist, r.ViewingDist[0], words.Millimetres(r.ViewingDist[1]))
	}
	if s.Tolerance != 0 && !r.Tolerance.holds(s.Tolerance) {
		return fmt.Errorf("a tolerance of %g µm: %g to %g µm can be set, or 0 for none", s.Tolerance, r.Tolerance[0], r.Tolerance[1])
	}
	return nil
}

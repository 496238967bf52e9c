package register

import "threeply/proof/survey"

// Moved is the share of what was measured of a plate that lies elsewhere from which the
// plate is parted. Sets of real separations left up to 0.02, people and water in them
// (figures of our own); a strip along an edge, a twelfth of the picture, leaves 0.03.
const Moved = 0.025

// fewestMoved cells are one part: less may be a mistake.
const fewestMoved = 3

// Parted tells whether a part of a plate lies elsewhere than the rest of it.
func Parted(m *survey.Map) bool {
	n := m.Share(survey.Elsewhere) * float64(len(m.Cells))
	return n > fewestMoved-0.5 && m.Outvoted() >= Moved
}

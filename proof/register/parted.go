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

// Lost is the largest part of the picture in which the key shows detail that was not found
// in the plate: cells that lie side by side, none where they are fewer than a part that
// moved must have.
func Lost(m *survey.Map) []int {
	var largest []int
	seen := make([]bool, len(m.Cells))
	for first := range m.Cells {
		part := []int{}
		for next := []int{first}; len(next) > 0; {
			i := next[0]
			next = next[1:]
			if seen[i] || m.Cells[i] != survey.Unmatched {
				continue
			}
			seen[i] = true
			part = append(part, i)
			if i%m.Across > 0 {
				next = append(next, i-1)
			}
			if i%m.Across < m.Across-1 {
				next = append(next, i+1)
			}
			if i >= m.Across {
				next = append(next, i-m.Across)
			}
			if i+m.Across < len(m.Cells) {
				next = append(next, i+m.Across)
			}
		}
		if len(part) > len(largest) {
			largest = part
		}
	}
	if len(largest) < fewestMoved {
		return nil
	}
	return largest
}

package register

import (
	"math"
	"slices"

	"threeply/proof/survey"
)

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
	for _, part := range partsOf(m, survey.Unmatched) {
		if len(part) > len(largest) {
			largest = part
		}
	}
	if len(largest) < fewestMoved {
		return nil
	}
	return largest
}

// partsOf are the cells of a kind, those that lie side by side together.
func partsOf(m *survey.Map, kind byte) (parts [][]int) {
	seen := make([]bool, len(m.Cells))
	for first := range m.Cells {
		var part []int
		for next := []int{first}; len(next) > 0; {
			i := next[0]
			next = next[1:]
			if seen[i] || m.Cells[i] != kind {
				continue
			}
			seen[i] = true
			part = append(part, i)
			next = append(next, neighbours(m, i)...)
		}
		if part != nil {
			parts = append(parts, part)
		}
	}
	return parts
}

// neighbours are the cells at the sides of one.
func neighbours(m *survey.Map, i int) (cells []int) {
	if i%m.Across > 0 {
		cells = append(cells, i-1)
	}
	if i%m.Across < m.Across-1 {
		cells = append(cells, i+1)
	}
	if i >= m.Across {
		cells = append(cells, i-m.Across)
	}
	if i+m.Across < len(m.Cells) {
		cells = append(cells, i+m.Across)
	}
	return cells
}

// breaksFrom is from which share of what it lies off a part breaks off from what lies a cell or
// two further on, and startsFrom the share that must be gone at its side already. They were set
// on seeds 1 and 101 to 107 of the sweeps: parts of photographs that moved came to 0.92 or more
// in both, blurred by 3 and 4 pixels to 0.93 and 0.74 (seed 1); of 35 plates that only bend, and
// came to 0.8, fewer than half stayed. Judged on seeds 46 and 47: 4 of 199 plates that bend are
// called parted (figures of our own).
const breaksFrom, startsFrom = 0.87, 0.65

// A large part, of so many cells that lie off by as much alike, breaks off from less, for the
// cells beside it lie in between where plates are blurred by more than the part moved. Of the
// plates that only bend (seeds 46 and 47 of the sweeps) 27 parts as large came to 0.93 alike at
// most; two quarters that moved, blurred by 4 pixels (seed 53), to 0.95 and 0.96, to 0.82 and
// 0.92 of what they lie off, and to 0.66 and 0.59 at their sides (figures of our own).
const (
	largeFrom, alikeFrom     = 12, 0.945
	largeBreaks, largeStarts = 0.77, 0.55
)

// Where the rest of the picture lies still, nine tenths of what was measured further than two cells from
// a large part off by no more than stillRest of that, it breaks off from less too, and need not be so alike:
// film that bends by as much bends in the rest, or smoothly within the part, while patches of blurred plates
// lie scattered. Of bent plates (seeds 201 to 204 of the sweeps) 17 parts beside so still a rest came to 0.75
// of what they lie off at most; quarters that moved, blurred by 3 and 4 pixels (seeds 90 and 98), to 0.87
// and 0.83, and to 0.90 alike, beside a rest off by 0.11 at most (figures of our own).
const stillRest, stillAlike, stillBreaks = 0.12, 0.85, 0.81

// breaksOff tells whether a part lies off by the same throughout, and by that much otherwise
// than what was measured around it, as what moved or is torn does, and what bends does not.
// A part that nothing was measured around is taken for one.
func breaksOff(m *survey.Map, part []int) bool {
	var dx, dy, beside, further []float64
	for _, i := range part {
		dx, dy = append(dx, m.DX[i]), append(dy, m.DY[i])
		for _, k := range neighbours(m, i) {
			if m.Cells[k] != survey.Measured {
				continue
			}
			beside = append(beside, stepOf(m, i, k))
			// Where plates are blurred, the cell at the side lies in between: the next is asked.
			if next := 2*k - i; slices.Contains(neighbours(m, k), next) && m.Cells[next] == survey.Measured {
				k = next
			}
			further = append(further, stepOf(m, i, k))
		}
	}
	if beside == nil {
		return true
	}
	x, y := median(dx), median(dy)
	var sizes, changes []float64
	for k := range part {
		sizes, changes = append(sizes, math.Hypot(dx[k], dy[k])), append(changes, math.Hypot(dx[k]-x, dy[k]-y))
	}
	alike := 1 - median(changes)/median(sizes)
	breaks, starts := breaksFrom, startsFrom
	switch large := len(part) >= largeFrom; {
	case large && alike >= alikeFrom:
		breaks, starts = largeBreaks, largeStarts
	case large && alike >= stillAlike && restLiesStill(m, part, stillRest*median(sizes)):
		breaks = stillBreaks
	}
	return median(further)*alike >= breaks && median(beside)*alike >= starts
}

// restLiesStill tells whether nine tenths of the cells that were measured further than two cells from a
// part lie off by no more than some pixels.
func restLiesStill(m *survey.Map, part []int, pixels float64) bool {
	const beside = 2
	near := func(i, k int) bool {
		return max(i%m.Across-k%m.Across, k%m.Across-i%m.Across, i/m.Across-k/m.Across, k/m.Across-i/m.Across) <= beside
	}
	still, all := 0, 0
	for i := range m.Cells {
		if m.Cells[i] != survey.Measured || slices.ContainsFunc(part, func(k int) bool { return near(i, k) }) {
			continue
		}
		if all++; math.Hypot(m.DX[i], m.DY[i]) <= pixels {
			still++
		}
	}
	return all > 0 && 10*still >= 9*all
}

// stepOf is by how much cell k lies off otherwise than cell i, as a share of what i lies off.
func stepOf(m *survey.Map, i, k int) float64 {
	return math.Hypot(m.DX[i]-m.DX[k], m.DY[i]-m.DY[k]) / math.Hypot(m.DX[i], m.DY[i])
}

package fitness

import (
	"math"
	"slices"

	"threeply/proof/order"
	"threeply/proof/plane"
)

// Streaks are straight lines, one pixel or a few wide, that run through a whole
// scan: dirt on the scanner's line, or a scratch drawn through film.
type Streaks struct {
	Down    int     `json:"down"`    // streaks that run from top to bottom
	Across  int     `json:"across"`  // and from side to side
	Density float64 `json:"density"` // by which the strongest differs from what lies beside it
}

// What counts as a streak: so much in density, so many times the usual
// difference of neighbouring lines, and alike in each third of the length.
const (
	leastStreak = 0.004
	overUsual   = 7
	thirds      = 3
	lookBeside  = 3   // lines away on either side
	mostSeen    = 180 // pixels looked at along a line
)

// densityOfCode is the density of one code of a density plane.
const densityOfCode = 4.0 / 65535

// StreaksOf looks for streaks within the area of a density plane.
func StreaksOf(p *plane.Plane, area [4]int) Streaks {
	down, d := streaks(p, area, false)
	across, a := streaks(p, area, true)
	return Streaks{down, across, max(d, a)}
}

func streaks(p *plane.Plane, area [4]int, across bool) (n int, strongest float64) {
	lines, length := area[2]-area[0], area[3]-area[1]
	if across {
		lines, length = length, lines
	}
	if lines < 40 || length < 3*thirds {
		return 0, 0
	}
	step := max(length/mostSeen, 1)
	var off [thirds][]float64 // of each line from those beside it
	var seen []int            // along each line, one after the other; in half codes: whole numbers are sorted faster
	for t := range off {
		off[t] = make([]float64, lines)
		from, to := t*length/thirds, (t+1)*length/thirds
		n := (to - from + step - 1) / step
		seen = slices.Grow(seen[:0], n*lines)[:n*lines]
		if across {
			row := func(line int) []uint16 { return p.Row(area[1] + line)[area[0]+from : area[0]+to] }
			for l := lookBeside; l < lines-lookBeside; l++ {
				on, before, after := row(l), row(l-lookBeside), row(l+lookBeside)
				for i := range n {
					k := i * step
					seen[l*n+i] = 2*int(on[k]) - int(before[k]) - int(after[k])
				}
			}
		} else {
			for i := range n {
				row := p.Row(area[1] + from + i*step)[area[0]:area[2]]
				for l := lookBeside; l < lines-lookBeside; l++ {
					seen[l*n+i] = 2*int(row[l]) - int(row[l-lookBeside]) - int(row[l+lookBeside])
				}
			}
		}
		for l := lookBeside; l < lines-lookBeside; l++ {
			off[t][l] = float64(median(seen[l*n:(l+1)*n])) / 2 * densityOfCode
		}
	}
	var limit [thirds]float64
	for t := range off {
		size := make([]float64, 0, lines)
		for _, v := range off[t][lookBeside : lines-lookBeside] {
			size = append(size, math.Abs(v))
		}
		limit[t] = max(leastStreak, overUsual*median(size))
	}
	last := -2
	for l := lookBeside; l < lines-lookBeside; l++ {
		weakest := math.Inf(1)
		for t := range off {
			v := off[t][l]
			if math.Abs(v) < limit[t] || v*off[0][l] < 0 {
				weakest = 0
				break
			}
			weakest = min(weakest, math.Abs(v))
		}
		if weakest == 0 {
			continue
		}
		if l > last+2*lookBeside { // a line throws a shadow on those that it lies beside
			n++
		}
		last = l
		strongest = max(strongest, weakest)
	}
	return n, strongest
}

// median reorders v and returns its middle, the upper of two, 0 of nothing.
func median[T int | float64](v []T) T {
	if len(v) == 0 {
		return 0
	}
	return order.Nth(v, len(v)/2)
}

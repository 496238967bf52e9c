package neutral

import (
	"math"

	"threeply/proof/overlay"
)

// What a proposed scale must hold: the size of its steps, in pixels and as a
// share of the picture; what it spans in density; by which share of the step to its neighbour the part of
// a step around its middle may stray, to either side of the line too; how far a
// step may lie off the line between its neighbours, on any plate, over the key's
// density; and how unequal two neighbouring steps of density may be, as in a toe.
const (
	leastStepPixels = 10
	leastStepShare  = 1.0 / 150
	leastSpan       = 0.3
	strayShare      = 0.3
	leastStray      = 0.012
	offNeighbours   = 0.02
	unequalSteps    = 3.0
)

// believed cuts a scale down to the longest row of steps that behave as the
// greys of a scale; ok is false where those are fewer than findSteps. Around a
// scale that is believed already, patches need only be as even as Read wants
// them: in a toe the grain is as large as the steps.
func believed(p *overlay.Plates, s Scale, already bool) (kept Scale, ok bool) {
	w, h := p.Size()
	n := len(s.Steps)
	if n < findSteps {
		return s, false
	}
	length := math.Hypot(s.X1-s.X0, s.Y1-s.Y0)
	size := length / float64(n-1)
	if size < max(leastStepPixels, leastStepShare*float64(max(w, h))) {
		return s, false
	}
	across := [2]float64{-(s.Y1 - s.Y0) / length * size, (s.X1 - s.X0) / length * size}
	from, best := 0, [2]int{}
	for i, g := range s.Steps {
		if i-from >= 2 && !between(s.Steps[i-2], s.Steps[i-1], g, p.Key) {
			from = i - 1
		}
		even := !g.Uneven && p.InPicture(g.X, g.Y)
		if !even || !already && !steady(p, s.Steps, i, size, across) {
			from = i + 1
		}
		if i+1-from > best[1]-best[0] {
			best = [2]int{from, i + 1}
		}
	}
	kept = Scale{Steps: s.Steps[best[0]:best[1]]}
	if len(kept.Steps) < findSteps {
		return s, false
	}
	first, last := kept.Steps[0], kept.Steps[len(kept.Steps)-1]
	if math.Abs(last.Density[p.Key]-first.Density[p.Key]) < leastSpan {
		return s, false
	}
	kept.X0, kept.Y0, kept.X1, kept.Y1 = first.X, first.Y, last.X, last.Y
	return kept, true
}

// between says whether b lies between a and c as a grey of a scale does.
func between(a, b, c Grey, key int) bool {
	first, second := b.Density[key]-a.Density[key], c.Density[key]-b.Density[key]
	if ratio := second / first; !(ratio > 1/unequalSteps && ratio < unequalSteps) {
		return false
	}
	share := first / (first + second)
	for k := range 3 {
		if line := a.Density[k] + share*(c.Density[k]-a.Density[k]); math.Abs(b.Density[k]-line) > offNeighbours {
			return false
		}
	}
	return true
}

// steady says whether step i is one even patch on the key: around its middle,
// and to both sides of the line.
func steady(p *overlay.Plates, steps []Grey, i int, size float64, across [2]float64) bool {
	step := math.Inf(1)
	for _, j := range [2]int{i - 1, i + 1} {
		if j >= 0 && j < len(steps) {
			step = min(step, math.Abs(steps[j].Density[p.Key]-steps[i].Density[p.Key]))
		}
	}
	limit := max(strayShare*step, leastStray)
	g := steps[i]
	for _, off := range [3]float64{0, -0.3, 0.3} {
		x, y := g.X+off*across[0], g.Y+off*across[1]
		if _, ok := p.Density(p.Key, x, y); !ok {
			return false
		}
		around := sectorsOf(p, p.Key, x, y, size/4)
		medians, _ := around.medians()
		for _, d := range medians {
			if math.Abs(d-g.Density[p.Key]) > limit {
				return false
			}
		}
	}
	return true
}

package neutral

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/overlay"
)

// Of the search. The key is reduced to each of findSides, for small steps and
// for large ones without their grain; lines lie findApart of its pixels apart,
// at every findTurn degrees, so that one of them runs through a scale whose
// length is ten times its height. A flat stretch holds within flatWithin in
// density over leastFlat pixels. The best mostTried rows of them are looked at
// closer.
const (
	findApart  = 6
	findTurn   = 4
	leastFlat  = 5
	flatWithin = 0.035
	findSteps  = 5 // fewer equal steps in a row happen by chance
	likeSizes  = 1.5
	stepFrom   = 0.02
	stepTo     = 0.5
	mostTried  = 30
	coarse     = 200 // samples of a line
)

var findSides = [...]int{440, 880}

// Find looks for a grey scale in the picture: findSteps steps or more of one
// size in a row, that go one way in all three plates and that one smooth curve a
// plate brings together. It is a proposal, for a person to confirm. ok is false
// where there is none; scales of fewer steps, with steps smaller than about a
// hundred and fiftieth of the picture, or under a strong gradient of the light
// escape it.
func Find(p *overlay.Plates) (s Scale, ok bool) {
	var found []flatRun
	for _, side := range findSides {
		level := 0
		for w, h := p.Size(); max(w, h)>>level > side; {
			level++
		}
		small, unit := p.Reduced(level)
		found = append(found, runs(small.Planes[small.Key], unit)...)
		if level == 0 {
			break
		}
	}
	slices.SortStableFunc(found, func(a, b flatRun) int { return cmp.Compare(b.worth(), a.worth()) })
	tried := 0
	for _, r := range found {
		if tried >= mostTried {
			break
		}
		if r.n < len(s.Steps) || ok && r.near(s) {
			continue
		}
		tried++
		if got, good := around(p, r); good && len(got.Steps) > len(s.Steps) {
			s, ok = got, true
		}
	}
	if !ok {
		return s, false
	}
	s = centred(p, longer(p, s))
	if fine, err := Along(p, s.X0, s.Y0, s.X1, s.Y1); err == nil && len(fine.Steps) == len(s.Steps) {
		s = fine
	}
	return s, true
}

// around looks for a scale near a row of flat stretches, whose line may run
// near an edge of the scale or across it at a slant: with either end moved
// across by as much as two thirds of a step.
func around(p *overlay.Plates, r flatRun) (best Scale, ok bool) {
	length := math.Hypot(r.x1-r.x0, r.y1-r.y0)
	size := length / float64(r.n-1)
	ax, ay := -(r.y1-r.y0)/length*size, (r.x1-r.x0)/length*size
	for _, a := range shifts {
		for _, b := range shifts {
			straight := a == 0 && b == 0
			least := max(findSteps, len(best.Steps)+1)
			if straight {
				least = findSteps - 1
			}
			got, err := along(p, r.x0+a*ax, r.y0+a*ay, r.x1+b*ax, r.y1+b*ay, coarse, least)
			if straight && len(got.Steps) < findSteps-1 {
				return best, false
			}
			if err != nil {
				continue
			}
			if got, good := believed(p, got, false); good && len(got.Steps) > len(best.Steps) {
				best, ok = got, true
			}
		}
	}
	return best, ok
}

var shifts = [...]float64{0, -0.33, 0.33, -0.66, 0.66} // 0 first: where that gives no scale, nothing near it does

// centred moves either end of the scale across to the middle of the strip in
// which its steps are found.
func centred(p *overlay.Plates, s Scale) Scale {
	for end := range 2 {
		n := len(s.Steps)
		length := math.Hypot(s.X1-s.X0, s.Y1-s.Y0)
		size := length / float64(n-1)
		ux, uy := (s.X1-s.X0)/length, (s.Y1-s.Y0)/length
		at := func(off float64) (Scale, bool) { // the line half a step longer, one end moved
			a, b := off, 0.0
			if end == 1 {
				a, b = b, a
			}
			got, err := along(p, s.X0-0.45*size*ux-a*uy, s.Y0-0.45*size*uy+a*ux, s.X1+0.45*size*ux-b*uy, s.Y1+0.45*size*uy+b*ux, coarse, n)
			if err != nil {
				return got, false
			}
			got, ok := believed(p, got, true)
			return got, ok && len(got.Steps) >= n
		}
		edge := func(way float64) float64 {
			off := 0.0
			for off < 2*size {
				if _, ok := at(way * (off + size/6)); !ok {
					break
				}
				off += size / 6
			}
			return way * off
		}
		if got, ok := at((edge(1) + edge(-1)) / 2); ok {
			s = got
		}
	}
	return s
}

// longer draws the line further at both ends for as long as that finds more
// steps.
func longer(p *overlay.Plates, s Scale) Scale {
	for {
		n := float64(len(s.Steps) - 1)
		dx, dy := 1.5*(s.X1-s.X0)/n, 1.5*(s.Y1-s.Y0)/n
		grown := false
		for _, ends := range [3][2]float64{{1, 1}, {1, 0}, {0, 1}} {
			a, b := ends[0], ends[1]
			got, err := along(p, s.X0-a*dx, s.Y0-a*dy, s.X1+b*dx, s.Y1+b*dy, coarse, len(s.Steps)+1)
			if err != nil {
				continue
			}
			if got, ok := believed(p, got, true); ok && len(got.Steps) > len(s.Steps) {
				s, grown = got, true
				break
			}
		}
		if !grown {
			return s
		}
	}
}

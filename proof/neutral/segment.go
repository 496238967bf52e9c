package neutral

import (
	"math"
	"slices"
)

// segment is a stretch of a profile, from its first sample to the one after
// its last, and its density on each plate.
type segment struct {
	from, to int
	level    [3]float64
	cut      bool // the line begins or ends in it
}

func (s segment) middle() float64 { return float64(s.from+s.to-1) / 2 }
func (s segment) size() int       { return s.to - s.from }

// Of the cutting into segments: the smallest, as a part of the line; by how much
// densities of one step stray as the light changes along it; and what a further
// segment costs, in squared deviations.
const (
	leastPart = 80
	evenStep  = 0.008
	parting   = 6.0
)

// segments cuts the profile into the stretches of even density that explain
// all three plates best (least squares with a price on each stretch, by dynamic
// programming: B. Jackson et al., IEEE Signal Process. Lett. 12, 2005, 105).
func (l *profile) segments() []segment {
	n := len(l.d[0])
	least := max(n/leastPart, 2)
	var sum, square [3][]float64
	var weight [3]float64
	for i, d := range l.d {
		sum[i], square[i] = make([]float64, n+1), make([]float64, n+1)
		for k, v := range d {
			sum[i][k+1], square[i][k+1] = sum[i][k]+v, square[i][k]+v*v
		}
		noise := max(stray(d), evenStep)
		weight[i] = 1 / (noise * noise)
	}
	cost := func(a, b int) float64 {
		c := 0.0
		for i := range l.d {
			s, m := sum[i][b]-sum[i][a], float64(b-a)
			if off := square[i][b] - square[i][a] - s*s/m; off > 0 {
				c += weight[i] * off
			}
		}
		return c
	}
	price := parting * math.Log(float64(n))
	best, back := make([]float64, n+1), make([]int, n+1)
	for b := 1; b <= n; b++ {
		best[b] = math.Inf(1)
		for a := 0; a <= b-least; a++ {
			if v := best[a] + cost(a, b) + price; v < best[b] {
				best[b], back[b] = v, a
			}
		}
	}
	var out []segment
	for b := n; b > 0 && !math.IsInf(best[b], 1); b = back[b] {
		s := segment{from: back[b], to: b, cut: b == n || back[b] == 0}
		for i := range l.d {
			s.level[i] = l.sign[i] * (sum[i][b] - sum[i][s.from]) / float64(b-s.from)
		}
		out = append(out, s)
	}
	slices.Reverse(out)
	return out
}

// stray is the spread of neighbouring samples about each other.
func stray(d []float64) float64 {
	var steps []float64
	for k := 1; k < len(d); k++ {
		steps = append(steps, d[k]-d[k-1])
	}
	_, s := middle(steps)
	return s / math.Sqrt2
}

// Of what is taken for one step of a scale.
const (
	oneStep    = 0.015 // neighbours this close in all three plates are one
	edgeShare  = 0.45  // of the usual size: a shorter stretch is the soft edge between steps
	oddSize    = 1.7   // a step is at most this much longer or shorter than the usual one
	againstRun = 0.012 // density that a plate may run back by
	pieceShare = 0.33  // of the usual step: pieces of one differ by less
	pieceSize  = 1.5   // of the usual size: pieces of one are no longer together
)

// even joins what belongs together and leaves out the soft edges between
// steps.
func (l *profile) even(all []segment) []segment {
	usual := usualSize(all)
	all = slices.DeleteFunc(slices.Clone(all), func(s segment) bool { return float64(s.size()) < edgeShare*usual })
	for i := 1; i < len(all); {
		if apartBy(all[i-1], all[i]) >= oneStep {
			i++
			continue
		}
		all[i-1] = joined(all[i-1], all[i])
		all = slices.Delete(all, i, i+1)
	}
	return whole(all)
}

// whole joins the pieces of a step that grain or light has broken up: neighbours
// that differ by much less than steps do, and are no longer together than a step.
func whole(all []segment) []segment {
	for len(all) > 2 {
		var steps, sizes []float64
		at, least := 0, math.Inf(1)
		for i, s := range all {
			sizes = append(sizes, float64(s.size()))
			if i == 0 {
				continue
			}
			d := apartBy(all[i-1], s)
			steps = append(steps, d)
			if d < least {
				at, least = i, d
			}
		}
		usual, _ := middle(steps)
		size, _ := middle(sizes)
		if least > pieceShare*usual || float64(all[at].to-all[at-1].from) > pieceSize*size {
			return all
		}
		all[at-1] = joined(all[at-1], all[at])
		all = slices.Delete(all, at, at+1)
	}
	return all
}

// joined is one segment in place of two neighbours.
func joined(a, b segment) segment {
	m, n := float64(a.size()), float64(b.size())
	for i := range a.level {
		a.level[i] = (m*a.level[i] + n*b.level[i]) / (m + n)
	}
	a.to, a.cut = b.to, a.cut || b.cut
	return a
}

// usualSize is the size that the middle of the line has: half of all samples
// lie in segments as long, or longer.
func usualSize(all []segment) float64 {
	sorted := slices.Clone(all)
	slices.SortFunc(sorted, func(a, b segment) int { return b.size() - a.size() })
	total := 0
	for _, s := range all {
		total += s.size()
	}
	sum := 0
	for _, s := range sorted {
		if sum += s.size(); 2*sum >= total {
			return float64(s.size())
		}
	}
	return 0
}

// apartBy is the largest difference of two segments in any plate.
func apartBy(a, b segment) float64 {
	most := 0.0
	for i := range a.level {
		most = max(most, math.Abs(a.level[i]-b.level[i]))
	}
	return most
}

// staircase is the longest run of segments that goes one way in density, in
// all plates, with flat steps of about one size.
func (l *profile) staircase(all []segment) []segment {
	var best []segment
	for _, way := range [2]float64{1, -1} {
		for from := range all {
			to := from + 1
			for to < len(all) && climbs(all[to-1], all[to], way) {
				to++
			}
			if run := alike(all[from:to]); len(run) > len(best) && l.flat(run) {
				best = run
			}
		}
	}
	return best
}

// flat tells steps from a slope that was cut into pieces: what the densities
// of the key change by within the steps is less than half of what they change by
// from one to the next.
func (l *profile) flat(run []segment) bool {
	d := l.d[l.key]
	within, all := 0.0, 0.0
	for i, s := range run {
		third := max(s.size()/3, 1)
		edge := s.size() / 8 // soft
		within += math.Abs(mean(d[s.to-edge-third:s.to-edge]) - mean(d[s.from+edge:s.from+edge+third]))
		if i > 0 {
			all += math.Abs(s.level[l.key] - run[i-1].level[l.key])
		}
	}
	return within < all/2
}

func climbs(a, b segment, way float64) bool {
	for i := range a.level {
		if way*(b.level[i]-a.level[i]) < -againstRun {
			return false
		}
	}
	return true
}

// alike takes from the ends of a run what is not of the usual size; a step that
// the line begins or ends in may be shorter. What is left may be empty.
func alike(run []segment) []segment {
	odd := func(s segment, usual float64) bool {
		return float64(s.size()) > oddSize*usual || float64(s.size())*oddSize < usual && !s.cut
	}
	for len(run) > 0 {
		var sizes []float64
		for _, s := range run {
			sizes = append(sizes, float64(s.size()))
		}
		usual, _ := middle(sizes)
		switch {
		case odd(run[0], usual):
			run = run[1:]
		case odd(run[len(run)-1], usual):
			run = run[:len(run)-1]
		default:
			for _, s := range run {
				if odd(s, usual) {
					return nil
				}
			}
			return run
		}
	}
	return nil
}

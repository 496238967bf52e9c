package balance

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/spectrum"
)

// tone is the amounts of one lightness.
type tone struct {
	l float64
	t [3]float64
}

// path is a chain of neutrals found on the way down, lightness falling.
type path []tone

// at returns amounts near those of lightness l.
func (p path) at(l float64) [3]float64 {
	i, _ := slices.BinarySearchFunc(p, l, func(e tone, l float64) int { return cmp.Compare(l, e.l) })
	if i == 0 {
		return p[0].t
	}
	if i == len(p) {
		return p[i-1].t
	}
	a, b := p[i-1], p[i]
	w := (a.l - l) / (a.l - b.l)
	var t [3]float64
	for j := range t {
		t[j] = a.t[j] + w*(b.t[j]-a.t[j])
	}
	return t
}

// tinted is the share of the way down to black over which the aim keeps some of
// the paper's tint; below it the aim is neutral.
const tinted = 0.5

// closest is how finely the walks of depth end, in L*.
const closest = 1e-2

// depth returns the amounts of the deepest neutral and the chain of neutrals from
// the paper towards it.
//
// It walks down from the paper with no layer falling on the way, and on from there
// without that bound. Below the paper's tint it also begins from amounts all over
// the room, since the neutrals can lie on more than one branch.
func (s *solver) depth(paper spectrum.Lab, limit float64) ([3]float64, path) {
	trace := path{{l: paper[0]}}
	aim := func(l float64) spectrum.Lab {
		out := spectrum.Lab{l}
		if w := 1 - (paper[0]-l)/(tinted*paper[0]); w > 0 {
			out[1], out[2] = w*paper[1], w*paper[2]
		}
		return out
	}
	s.walk(trace[0], paper[0]/24, aim, func(t [3]float64) bounds { return bounds{t, upTo(limit).hi} }, func(e tone) { trace = append(trace, e) })
	best := trace[len(trace)-1]
	free := func([3]float64) bounds { return upTo(limit) }
	keep := func(e tone) {
		if e.l < best.l {
			best = e
		}
	}
	s.walk(best, 1, aim, free, keep)
	if best.l > (1-tinted)*paper[0] {
		return best.t, trace
	}
	towards := metric{{0.1, 0, 0}, {0, 1, 0}, {0, 0, 1}} // to black, neutral first
	for i := range 8 {
		var start [3]float64
		for j := range start {
			start[j] = limit * (0.4 + 0.6*float64(i>>j&1))
		}
		t, lab := s.fit(start, spectrum.Lab{}, &towards, upTo(limit))
		if lab[0] > best.l+2 {
			continue
		}
		// What was left of the colour goes at some cost of lightness.
		for _, l := range []float64{lab[0], lab[0] + 0.5, lab[0] + 1.5} {
			if t, lab := s.fit(t, aim(l), &euclid, upTo(limit)); lab.Distance(aim(l)) < 1e-3 {
				keep(tone{l, t})
				s.walk(tone{l, t}, 0.5, aim, free, keep)
				break
			}
		}
	}
	return best.t, trace
}

// walk goes down from a neutral by steps of lightness, each begun from the last,
// and halves the step where the next neutral cannot be had.
func (s *solver) walk(from tone, step float64, aim func(l float64) spectrum.Lab, in func(t [3]float64) bounds, found func(tone)) {
	for step > closest {
		l := from.l - step
		if l <= 0 {
			step /= 2
			continue
		}
		want := aim(l)
		t, lab := s.fit(from.t, want, &euclid, in(from.t))
		if lab.Distance(want) > 1e-3 || math.IsNaN(lab[0]) {
			step /= 2
			continue
		}
		from = tone{l, t}
		found(from)
	}
}

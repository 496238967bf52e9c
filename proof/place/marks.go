package place

import (
	"math"

	"threeply/proof/mark"
	"threeply/proof/register"
	"threeply/proof/session"
)

// MarkFit returns what the marks, by the session's way of registering, make of
// source i: a map from the key's pixel to the source's. The residuals are those
// of MarksOf(i). The errors are those of mark.Solve.
func MarkFit(s *session.State, i int) (mark.Fit, error) {
	marks, start := MarksOf(s, i), Found(s, i)
	if blends(s, i) {
		w, h := s.Frame()
		return mark.Blend(marks, start, w, h, s.MarkShare)
	}
	return mark.Solve(marks, start)
}

// blends tells whether source i lies by marks and by what was found together: where both
// are asked for, and it was found, or laid by hand. Of a plate that was not found the marks
// alone tell.
func blends(s *session.State, i int) bool {
	return s.By == session.ByBoth && s.Registered == "auto" && (s.Found[i].ByHand || s.Found[i].Confidence >= register.FoundFrom)
}

// MarksOf returns the marks that are pinned in the key and in source i, in the
// order of Marks. A place that was proposed and not confirmed weighs by its
// certainty.
func MarksOf(s *session.State, i int) []mark.Mark {
	k := s.KeySource()
	var out []mark.Mark
	for _, m := range s.Marks {
		if m.At[k].Set && m.At[i].Set {
			out = append(out, mark.Mark{KeyX: m.At[k].X, KeyY: m.At[k].Y, X: m.At[i].X, Y: m.At[i].Y, Weight: m.Weight * trust(m.At[k]) * trust(m.At[i])})
		}
	}
	return out
}

// leastTrust keeps a proposal of next to no certainty in the fit, lest the marks
// that count be fewer than those that are seen.
const leastTrust = 0.02

func trust(p session.Pin) float64 {
	if !p.Proposed {
		return 1
	}
	return max(p.Certainty, leastTrust)
}

// MarkResidual is how far the present map puts mark m beside its pin in source
// i, in pixels of the source; ok is false where it is not pinned there and in
// the key.
func MarkResidual(s *session.State, m session.Pinned, i int) (px float64, ok bool) {
	key, pin := m.At[s.KeySource()], m.At[i]
	if !key.Set || !pin.Set || i == s.KeySource() {
		return 0, false
	}
	x, y := Register(s, i).Apply(key.X, key.Y)
	return math.Hypot(x-pin.X, y-pin.Y), true
}

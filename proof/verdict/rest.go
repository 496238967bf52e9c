package verdict

import (
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/mark"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/warp"
)

// Rest is what register leaves at a plate, against the frame that it was found
// in, in pixels of the key.
type Rest struct {
	warp.Residual
	Known      bool    // false where nothing was measured that could tell
	Confidence float64 // of the automatic register, 1 where the plate does not lie by it
	Outvoted   float64 // share of the places measured with certainty that lie elsewhere, 0..1
	Marks      int     // how many the plate lies by
	Local      bool    // Residual is what the local register leaves
	Measured   bool    // Residual rests on what the automatic register measured too, not on marks alone
}

// freedom is how many marks an affine map goes through exactly.
const freedom = 3

// RestOf sums up what register leaves at source i. Of a plate that was found it
// is the median of the places measured with certainty, 95 % of them and the
// largest. Their 95th percentile holds the noise of single patches, several times
// what the fit itself is off (the demo's known matrices show it), and what moved in
// the scene. Of a plate that lies by n marks, Median is their root mean square over
// the n-3 by which they are more than an affine map needs, but no more than the largest. Three and fewer leave none: then it is what
// the automatic register measured, and how far its map lies from that of the marks,
// where that is no more than a pixel, and else nothing is known. By both ways it is
// the larger of what was measured so and of what the marks leave. Of a plate placed
// by hand, or not found, nothing is known. The plate that the others were found
// against has none.
func RestOf(s *session.State, i int) Rest {
	f := s.Found[i]
	found := Rest{Residual: warp.Residual{Median: f.Median, P95: f.P95, Max: f.Max}, Known: true, Confidence: f.Confidence, Outvoted: s.Outvoted[i], Measured: true}
	switch way := place.WayOf(s, i); way {
	case place.WayNone, place.WayHand:
		return Rest{Confidence: 1}
	case place.WayKey:
		if s.By != session.ByRegister || s.Registered != "auto" {
			return Rest{Known: true, Confidence: 1}
		}
	case place.WayMarks, place.WayBoth:
		fit, err := place.MarkFit(s, i)
		if err != nil {
			return Rest{Confidence: 1}
		}
		marks, moved := ofMarks(fit, way == place.WayBoth), apart(s, fit.Matrix, i)
		found.Marks = marks.Marks
		found.Median, found.P95, found.Max = math.Hypot(found.Median, moved.Median), math.Hypot(found.P95, moved.P95), math.Hypot(found.Max, moved.Max)
		switch {
		case way == place.WayBoth && !f.ByHand:
			found.Median, found.P95, found.Max = max(found.Median, marks.Median), max(found.P95, marks.P95), max(found.Max, marks.Max)
			return found
		case !marks.Known && s.Registered == "auto" && !f.ByHand && f.Confidence >= SureFrom && moved.Max <= 1:
			found.Confidence = 1
			return found
		}
		return marks
	}
	if f.Confidence < register.FoundFrom {
		return Rest{Confidence: f.Confidence}
	}
	if l := place.Local(s, i); l != nil {
		// It was fitted to the places that agree: the others lie where they lay.
		found.Residual, found.Local = l.After, true
		if found.Outvoted > 0 {
			found.Max = max(found.Max, f.Max)
		}
		if found.Outvoted > 0.05 {
			found.P95 = max(found.P95, f.P95)
		}
	}
	return found
}

// grid is the number of places a side at which two maps are compared.
const grid = 9

// apart is how far a map of source i lies from what was found, over the picture, in
// pixels of the key.
func apart(s *session.State, m affine.Matrix, i int) warp.Residual {
	w, h := s.Frame()
	was := place.Found(s, i)
	size := math.Sqrt(math.Abs(was.Det()))
	var all []float64
	for j := range grid {
		for k := range grid {
			x, y := float64(w-1)*float64(k)/(grid-1), float64(h-1)*float64(j)/(grid-1)
			ax, ay := m.Apply(x, y)
			bx, by := was.Apply(x, y)
			all = append(all, math.Hypot(ax-bx, ay-by)/size)
		}
	}
	slices.Sort(all)
	return warp.Residual{Median: all[len(all)/2], P95: all[len(all)*95/100], Max: all[len(all)-1]}
}

func ofMarks(fit mark.Fit, blended bool) Rest {
	n := len(fit.Residual)
	r := Rest{Marks: n, Confidence: 1}
	spare := n - freedom
	if blended {
		spare = n
	}
	if spare <= 0 {
		return r
	}
	size := math.Sqrt(math.Abs(fit.Matrix.Det())) // plate pixels to the key's
	var square float64
	for _, v := range fit.Residual {
		square += v * v / size / size
		r.Max = max(r.Max, v/size)
	}
	r.Median, r.P95, r.Known = min(math.Sqrt(square/float64(spare)), r.Max), r.Max, true
	return r
}

// SureFrom is the confidence from which a plate's register is spoken of without doubt.
// Below register.FoundFrom the plate was not found, whatever its matrix says.
const SureFrom = 0.6

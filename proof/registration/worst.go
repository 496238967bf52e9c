package registration

import (
	"math"
	"slices"

	"threeply/proof/filter"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/survey"
	"threeply/proof/verdict"
)

// WorstPlace is one of the places where two plates lie furthest apart.
type WorstPlace struct {
	X, Y          float64 // pixels of the plate that was registered to
	First, Second filter.Filter
	Off           float64 // how far they lie apart there, pixels of that plate
	Moved         bool    // one of them lies elsewhere than the rest of its plate
}

// mostWorst bounds the places of Worst where the whole picture was surveyed.
const mostWorst = 20

// Worst lists the places that lie worst, the worst first. Where the picture was surveyed
// they are those of the verdict, so that the first is the largest that it tells of; each
// lies where a place was measured, if the fields, less the local register, hold one near
// by. Else they are the places of the fields that were measured with certainty, in the
// order of Hotter.
func Worst(s *session.State, fields [3][]register.Offset) []WorstPlace {
	v := verdict.OfScan(s)
	var out []WorstPlace
	if v.Measured {
		grid := survey.Map{Across: v.Across, Down: v.Down, Area: v.Area}
		w, h := grid.Sides()
		for _, at := range v.Worst(mostWorst) {
			x, y := spot(s, fields, at, math.Hypot(w, h)/2)
			out = append(out, WorstPlace{x, y, at.First, at.Second, at.Off, at.Moved})
		}
		return out
	}
	type place struct {
		source int
		register.Offset
	}
	var all []place
	for i, field := range fields {
		for _, o := range field {
			if o.Sure() {
				all = append(all, place{i, o})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b place) int { return Hotter(a.Offset, b.Offset) })
	of := func(source int) filter.Filter { return filter.Filter(max(slices.Index(s.Assign[:], source), 0)) }
	for _, p := range all {
		a, b := of(p.source), of(s.FoundKey)
		out = append(out, WorstPlace{p.X, p.Y, min(a, b), max(a, b), math.Hypot(p.DX, p.DY), p.Outvoted})
	}
	return out
}

// spot is where to look in one of the worst parts of the picture: the largest offset that
// was measured with certainty within reach of its middle, of either plate of the pair.
func spot(s *session.State, fields [3][]register.Offset, at verdict.Place, reach float64) (x, y float64) {
	x, y = at.X, at.Y
	most := -1.0
	for _, f := range [2]filter.Filter{at.First, at.Second} {
		for _, o := range fields[s.Assign[f]] {
			size := math.Hypot(o.DX, o.DY)
			if o.Sure() && size > most && math.Hypot(o.X-at.X, o.Y-at.Y) <= reach {
				x, y, most = o.X, o.Y, size
			}
		}
	}
	return x, y
}

// Surveyed is what is left by the survey that a session keeps: one offset in the middle
// of each part of the picture that was measured.
func Surveyed(s *session.State) (out [3][]register.Offset) {
	for i := range s.Survey {
		m := &s.Survey[i]
		for c := range m.Cells {
			if m.Has(c) {
				x, y := m.Centre(c)
				out[i] = append(out[i], register.Offset{X: x, Y: y, DX: m.DX[c], DY: m.DY[c], Certainty: 1, Error: m.Within[c], Outvoted: m.Cells[c] == survey.Elsewhere})
			}
		}
		slices.SortStableFunc(out[i], Hotter)
	}
	return out
}

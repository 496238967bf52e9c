package levels

import (
	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/plane"
	"threeply/proof/session"
)

// Fitness judges the scans of a session's plates, for a print of its width.
// planes are at full size where the plates are in register and sharpness is to be
// compared, else nil.
func Fitness(s *session.State, planes *[3]*plane.Plane) []fitness.Finding {
	var plates [3]fitness.Plate
	var blur [3]float64
	if planes != nil {
		blur = Overlay(s, *planes).Blur()
	}
	for _, f := range filter.All {
		src := &s.Sources[s.Assign[f]]
		plates[f] = fitness.Plate{
			Bits: src.Bits, PPI: src.PPI, Encoding: src.Encoding,
			Width: src.Area[2] - src.Area[0], Height: src.Area[3] - src.Area[1],
			Negative: src.Film.Negative, Gamma: src.Film.Gamma,
			Thin: src.Base, Dense: src.Max, Rebate: src.Rebate, Blur: blur[f], Facts: src.Scan,
		}
	}
	return fitness.Report(plates, s.PrintWidth)
}

package levels

import (
	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/session"
)

// Fitness judges the scans of a session's plates, for a print of its width. blur is
// how far the sharpest edges of each plate are spread, by filter, as overlay.Blur
// gives it for plates in register; 0 where that is not known.
func Fitness(s *session.State, blur [3]float64) []fitness.Finding {
	var plates [3]fitness.Plate
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

package plate

import "threeply/proof/plane"

// guessPolarity tells a negative from a positive.
func guessPolarity(p *plane.Plane, area [4]int, h *histogram) (Polarity, float64) {
	if h.quantile(thinQuantile) > 0.1 {
		return Negative, 0.3
	}
	return Positive, 0.3
}

// vote makes one decision for the set, weighted by certainty.
func (s *Set) vote() {
	sum := 0.0
	for i := range s.Sources {
		if s.Sources[i].Polarity == Negative {
			sum += s.Sources[i].PolaritySure
		} else {
			sum -= s.Sources[i].PolaritySure
		}
	}
	for i := range s.Sources {
		if sum > 0 {
			s.Sources[i].SetPolarity(Negative)
		} else {
			s.Sources[i].SetPolarity(Positive)
		}
	}
}

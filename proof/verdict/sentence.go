package verdict

import (
	"fmt"

	"threeply/proof/session"
	"threeply/proof/words"
)

// PressMicrons is how closely an offset press lays its colours (ISO 12647-2, from
// memory; 120 on large formats): no limit of this process, only something to
// compare it with.
const PressMicrons = 80

// Guideline names the source of Stars.
const Guideline = "FADGI still-image guidelines"

// Stars is what the federal still-image guideline (FADGI, Technical Guidelines
// for Digitizing Cultural Heritage Materials, as quoted second-hand) gives the
// misregister of a colour scan's channels, in pixels: four below 0.33, three
// below 0.50, two below 0.80, else one. A set of plates is a colour scan once
// it is in register, so it is said of what register leaves.
func Stars(px float64) int {
	switch {
	case px < 0.33:
		return 4
	case px < 0.50:
		return 3
	case px < 0.80:
		return 2
	}
	return 1
}

// scanLimit is the residual, in pixels, below which a scan no longer tells
// misregister from its own grain and resampling: half a pixel, between the
// two and three stars of Stars.
const scanLimit = 0.5

func say(s *session.State, m Verdict) (sign, sentence string) {
	limit, wanted := fmt.Sprintf("the %s that the eye sees at %s", words.Microns(m.Threshold), words.Millimetres(s.ViewingDist)), "the eye sees "+words.Microns(m.Threshold)
	if m.FromTolerance {
		limit, wanted = "your tolerance of "+words.Microns(m.Threshold), "your tolerance is "+words.Microns(m.Threshold)
	}
	switch {
	case m.Unsure != "" && m.Moved > m.Threshold:
		return "out", fmt.Sprintf("%s The offsets on the print alone part two layers by up to %s, beyond %s.", m.Unsure, words.Microns(m.Moved), limit)
	case m.Unsure != "":
		return "unsure", m.Unsure
	case m.Parted != "" && m.Moved > m.Threshold:
		return "out", fmt.Sprintf("%sThe offsets on the print alone part two layers by up to %s, beyond %s.", m.Parted, words.Microns(m.Moved), limit)
	case m.Parted != "":
		return "unsure", fmt.Sprintf("%sThe rest lies typically within %s between two layers; the limit is %s.", m.Parted, words.Microns(m.Largest), limit)
	case m.Largest <= m.Threshold && m.PlacesP95 <= m.Threshold:
		return "in", fmt.Sprintf("In register: typically %s between two layers, 95 %% of places within %s; the limit is %s.", words.Microns(m.Largest), words.Microns(m.PlacesP95), limit)
	case m.Largest <= m.Threshold:
		return "near", fmt.Sprintf("Nearly in register: typically %s between two layers, within %s, but 95 %% of the single places only within %s: grain, damage or what moved. Look at the worst.", words.Microns(m.Largest), limit, words.Microns(m.PlacesP95))
	case m.Moved <= m.Threshold && m.Left <= scanLimit:
		return "near", fmt.Sprintf("In register as near as these scans can tell: what is left, %.1f px, is %s on a print %s wide, and %s. A larger scan or a smaller print would settle it.",
			m.Left, words.Microns(m.Largest), words.Millimetres(s.PrintWidth), wanted)
	case m.P95 <= m.Threshold:
		return "near", fmt.Sprintf("Nearly in register: up to %s between %s and %s at the worst place, beyond %s.",
			words.Microns(m.Largest), m.First, m.Second, limit)
	}
	return "out", fmt.Sprintf("Out of register: %s and %s lie up to %s apart, %.1f times %s.",
		m.First, m.Second, words.Microns(m.Largest), m.Largest/m.Threshold, limit)
}

var signs = map[string]string{"in": "in register", "near": "nearly in register", "out": "out of register", "unsure": "cannot be judged"}

// SignWords is a verdict's sign in words.
func SignWords(sign string) string { return signs[sign] }

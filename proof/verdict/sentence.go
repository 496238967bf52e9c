package verdict

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
// it is in register, so it is said of how far two of them lie apart at 95 % of the
// picture.
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

var signs = map[string]string{"in": "in register", "out": "not in register", "unsure": "cannot be judged"}

// SignWords is a verdict's sign in words.
func SignWords(sign string) string { return signs[sign] }

package pigment

import "math"

// BlueWool is a range of blue wool classes, of the eight dyed cloths of ISO 105-B08
// that lightfastness is told by: 1 fades first, 8 last. Zero where no class is
// known.
type BlueWool struct{ Least, Most float64 }

// FadingDose is the light, in Mlx·h without UV, after which a colour of a blue
// wool class has faded noticeably: 0.4 for class 1 to 900 for class 8
// (S. Michalski 1990, as quoted second-hand). The classes between are taken in
// equal ratios, each standing three times its forerunner.
func FadingDose(class float64) float64 {
	const first, last = 0.4, 900
	return first * math.Pow(last/first, (class-1)/7)
}

// Years is how long the colours may be shown at an illuminance in lux, for so
// many hours every day, until they have faded noticeably: the first of the range
// and the last. ok is false where no class is known or nothing is lit.
func (b BlueWool) Years(lux, hours float64) (least, most float64, ok bool) {
	perYear := lux * hours * 365 / 1e6
	if b == (BlueWool{}) || !(perYear > 0) {
		return 0, 0, false
	}
	return FadingDose(b.Least) / perYear, FadingDose(b.Most) / perYear, true
}

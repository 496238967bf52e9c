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

// Exhibition is how a print is shown.
type Exhibition struct {
	Lux   float64 `json:"lux"`   // on the print, without UV
	Hours float64 `json:"hours"` // a day
	Years float64 `json:"years"`
}

// UsualExhibition stands for one that nobody has described: a gallery of 50 lx (from
// memory), 8 hours a day.
var UsualExhibition = Exhibition{50, 8, 50}

// The limits of what can be entered of an exhibition.
const (
	LeastLux, MostLux     = 1, 20000
	LeastHours, MostHours = 0.1, 24
	LeastYears, MostYears = 0.1, 500
)

// Dose is the light of the whole exhibition, in Mlx·h.
func (e Exhibition) Dose() float64 { return e.Lux * e.Hours * 365 * e.Years / 1e6 }

// Classes is the range of blue wool classes of a pigment: those that are named, else those
// that its ASTM D4303 category stands for, by the correspondence of Class. ok is false
// where nothing is known.
func (p Pigment) Classes() (b BlueWool, ok bool) {
	if p.BlueWool != (BlueWool{}) {
		return p.BlueWool, true
	}
	switch p.Class() {
	case 1:
		return BlueWool{7, 8}, true
	case 2:
		return BlueWool{6, 7}, true
	case 3:
		return BlueWool{4, 5}, true
	case 4, 5:
		return BlueWool{1, 3}, true
	}
	return BlueWool{}, false
}

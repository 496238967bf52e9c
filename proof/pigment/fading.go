package pigment

import (
	"fmt"
	"math"
)

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

// Faded is how a tissue faded, as measured of a strip of it.
type Faded struct {
	Dose float64 `json:"dose"` // light on the strip, in Mlx·h without UV
	Left float64 `json:"left"` // share of the tissue's pigment that it left
}

// After is the share that is left after a dose in Mlx·h: equal shares for equal light.
func (f Faded) After(dose float64) float64 { return math.Pow(f.Left, dose/f.Dose) }

// The limits of what can be measured of fading.
const (
	LeastDose, MostDose = 1e-3, 1e5 // Mlx·h
	LeastLeft, MostLeft = 0.01, 1
)

func (f *Faded) check() *Fault {
	switch {
	case !(f.Dose >= LeastDose && f.Dose <= MostDose):
		return &Fault{[]any{"faded", "dose"}, fmt.Sprintf("%g Mlx·h is out of bounds; give %g to %g", f.Dose, LeastDose, MostDose)}
	case !(f.Left >= LeastLeft && f.Left <= MostLeft):
		return &Fault{[]any{"faded", "left"}, fmt.Sprintf("a share of %g is left; give %g to %d", f.Left, LeastLeft, MostLeft)}
	}
	return nil
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

// Words say what it is, such as "after 50 years on show at 50 lx, 8 hours a day, without UV".
func (e Exhibition) Words() string {
	return fmt.Sprintf("after %.4g years on show at %.5g lx, %.3g hours a day, without UV", e.Years, e.Lux, e.Hours)
}

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

package words

import (
	"fmt"
	"math"
	"strings"
)

// Black says what a blackest grey is worth by its L*. The limits are our own: below L* 12 a
// print looks as black as a good matt one on paper can, above 22 its shadows look veiled.
func Black(lightness float64) string {
	switch {
	case lightness < 12:
		return "deep"
	case lightness <= 22:
		return "fair"
	}
	return "weak"
}

// Whole says how much of a picture's colour a print holds, by the share of the picture, 0 … 1,
// that cannot be printed. The limits are our own.
func Whole(beyond float64) string {
	switch {
	case beyond < 0.02:
		return "whole"
	case beyond < 0.1:
		return "nearly whole"
	}
	return "reduced"
}

// hues are the words for a hue angle of CIELAB, each up to its angle in degrees. The
// division is our own.
var hues = []struct {
	to   float64
	word string
}{
	{12, "rosy"}, {50, "reddish"}, {80, "orange"}, {105, "yellowish"}, {130, "yellow-green"}, {180, "greenish"},
	{245, "blue-green"}, {300, "bluish"}, {335, "violet"}, {360, "rosy"},
}

// Leaning says which way a colour near grey leans, by its CIELAB: neutral where nobody would
// see it.
func Leaning(lab [3]float64) string {
	chroma := math.Hypot(lab[1], lab[2])
	if !(chroma >= 1) { // nor of a colour that is no number
		return "neutral"
	}
	degrees := math.Mod(math.Atan2(lab[2], lab[1])*180/math.Pi+360, 360)
	for _, hue := range hues {
		switch {
		case degrees > hue.to:
		case chroma < 3:
			return "faintly " + hue.word
		default:
			return hue.word
		}
	}
	return "neutral"
}

// Figure writes a number to so many digits, with a true minus and no minus zero; a dash where
// it is no number.
func Figure(v float64, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	out := fmt.Sprintf("%.*f", digits, v)
	if strings.HasPrefix(out, "-") {
		out = out[1:]
		if strings.Trim(out, "0.") != "" {
			out = "−" + out
		}
	}
	return out
}

// Signed is Figure with a plus before what is above zero.
func Signed(v float64, digits int) string {
	out := Figure(v, digits)
	if v > 0 && strings.Trim(out, "0.") != "" {
		return "+" + out
	}
	return out
}

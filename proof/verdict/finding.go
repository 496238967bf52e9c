package verdict

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/register"
)

// Size is the width and the height of a plate, in pixels.
type Size [2]int

// FoundWords says in a sentence or two what register found of a plate, and what to
// do where it found nothing. twinOfKey says that the plate, a twin, is the key's.
func FoundWords(p register.Plate, key, plate Size, twinOfKey bool) string {
	words := placeWords(p, key, plate)
	if p.Outcome == register.IsKey {
		return words
	}
	switch {
	case p.Twin && twinOfKey:
		words = "The same scan as the key, pixel for pixel: one file given twice?"
	case p.Twin && p.Confidence > 0:
		words = "The same scan as another plate, pixel for pixel: one file given twice?"
	}
	if p.Alike {
		words += " It shows the very tones of another plate: one plate scanned twice, or a scene of greys?"
	}
	return words
}

// placeWords says where a plate lies, or why that is not known.
func placeWords(p register.Plate, key, plate Size) string {
	const laidByPerson = "place it by hand or pin marks"
	tooSmall := func(s Size) string {
		return fmt.Sprintf("%d × %d pixels, and a side needs %d", s[0], s[1], register.SmallestSide)
	}
	switch p.Outcome {
	case register.IsKey:
		return "The key: the other plates are registered to it."
	case register.Found:
		return lieWords(p, key, plate)
	case register.KeyTooSmall:
		return fmt.Sprintf("The key is too small to register to: %s; place the plates by hand or pin marks.", tooSmall(key))
	case register.TooSmall:
		return fmt.Sprintf("Too small to register: %s; %s.", tooSmall(plate), laidByPerson)
	case register.KeyEven:
		return "The key shows nothing to register by: it is all one grey or nearly so; choose another key."
	case register.Even:
		return "Nothing to register by: this plate is all one grey or nearly so; " + laidByPerson + "."
	case register.Repeats:
		return "The picture repeats itself and fits in more than one place: " + laidByPerson + "."
	}
	if a, b := key.slimness(), plate.slimness(); max(a, b) > anotherShape*min(a, b) {
		return fmt.Sprintf("No agreement with the key, and another shape: its long side is %.1f times the short one, the key's %.1f. Another picture or a part of it; %s.", b, a, laidByPerson)
	}
	return "No agreement with the key: another picture, too damaged, or it lies in a way that was not looked for. " + tried + " were tried; " + laidByPerson + "."
}

// anotherShape is by what factor the sides of two plates that show the same must
// differ in proportion, at least, to be remarked upon: borders cut otherwise differ
// by less.
const anotherShape = 1.5

// tried is what register looks for, in words.
const tried = "Turns to 15° off upright, on its side, upside down or mirrored, 0.8 to 1.25 of the size, and both scans brought to one size"

// slimness is the long side over the short one.
func (s Size) slimness() float64 { return float64(max(s[0], s[1])) / float64(min(s[0], s[1])) }

// middle is where the centre of a plate lies.
func (s Size) middle() (x, y float64) { return float64(s[0]-1) / 2, float64(s[1]-1) / 2 }

// lieWords says how a plate that was found lies against the key.
func lieWords(plate register.Plate, key, size Size) string {
	cx, cy := key.middle()
	m := plate.Matrix
	p := m.Decompose(cx, cy)
	var parts []string
	turn := p.Turn
	if m.Det() < 0 {
		parts = append(parts, "mirrored")
		turn += 180 // left to right, not top to bottom
		if turn > 180 {
			turn -= 360
		}
	}
	quarter := math.Round(turn / 90)
	turn -= 90 * quarter
	switch int(math.Abs(quarter)) {
	case 1:
		parts = append(parts, "a quarter turn")
	case 2:
		parts = append(parts, "a half turn")
	}
	if math.Abs(turn) >= 0.05 {
		parts = append(parts, fmt.Sprintf("turned %.1f°", math.Abs(turn)))
	}
	parts = append(parts, sizes(p)...)
	x, y := m.Apply(cx, cy)
	px, py := size.middle()
	if d := math.Hypot(x-px, y-py); d >= 0.5 {
		parts = append(parts, fmt.Sprintf("shifted %.0f px", d))
	}
	found := "Lies as the key does"
	if len(parts) > 0 {
		found = "Against the key: " + strings.Join(parts, ", ")
	}
	switch {
	case register.Parted(&plate.Survey):
		return found + "; but " + elsewhere(plate.Outvoted, plate.Residual.Max) + "."
	case plate.Confidence < agreeFrom:
		return found + "; but that is not sure: look at the edges."
	}
	return found + "."
}

// agreeFrom is the confidence below which it is said that a place is not sure.
const agreeFrom = 0.7

// elsewhere says that a share of the places lies elsewhere, by up to px pixels, and
// what to do.
func elsewhere(share, px float64) string {
	var places string
	switch {
	case share > 0.55:
		places = "most of the places lie"
	case share > 0.42:
		places = "half of the places lie"
	case share > 0.29:
		places = "a third of the places lie"
	case share > 0.22:
		places = "a quarter of the places lie"
	default:
		places = fmt.Sprintf("one place in %.0f lies", 1/max(share, 0.001))
	}
	return fmt.Sprintf("%s elsewhere by up to %.0f px; look at the edges", places, px)
}

// sizes says how much larger or smaller a plate is, both ways where they differ,
// and how it is sheared, which old film is too. Why, the figures do not tell.
func sizes(p affine.Parts) (parts []string) {
	sx, sy := p.StretchX, math.Abs(p.StretchY)
	if across, down := 100*(sx-1), 100*(sy-1); math.Abs(across-down) >= 0.1 {
		way := func(v float64, where string) {
			if math.Abs(v) >= 0.05 {
				parts = append(parts, fmt.Sprintf("%.1f %% %s %s", math.Abs(v), map[bool]string{true: "smaller", false: "larger"}[v < 0], where))
			}
		}
		way(across, "across")
		way(down, "down")
	} else if grow := 100 * (math.Sqrt(sx*sy) - 1); math.Abs(grow) >= 0.05 {
		parts = append(parts, fmt.Sprintf("%.1f %% %s", math.Abs(grow), map[bool]string{true: "smaller", false: "larger"}[grow < 0]))
	}
	if shear := math.Abs(math.Atan(p.Shear)) * 180 / math.Pi; shear >= 0.1 {
		parts = append(parts, fmt.Sprintf("sheared by %.1f°", shear))
	}
	return parts
}

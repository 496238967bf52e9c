// Package words writes numbers and messages as people read them.
package words

import (
	"fmt"
	"math"
	"strconv"
)

// Microns writes a length on the print: whole µm, mm from 1 mm on.
func Microns(um float64) string {
	if math.Abs(um) >= 1000 {
		return fmt.Sprintf("%.2f mm", um/1000)
	}
	return fmt.Sprintf("%.0f µm", um)
}

// Millimetres writes a distance.
func Millimetres(mm float64) string {
	if mm >= 1000 {
		return fmt.Sprintf("%.1f m", mm/1000)
	}
	return fmt.Sprintf("%.0f mm", mm)
}

// Two writes a number above 0 to two digits, without an exponent.
func Two(v float64) string {
	if !(v > 0) || math.IsInf(v, 0) {
		return fmt.Sprintf("%.0f", v)
	}
	round := func(v float64) (float64, int) {
		place := math.Floor(math.Log10(v)) - 1
		unit := math.Pow(10, place)
		return math.Round(v/unit) * unit, max(0, -int(place))
	}
	v, _ = round(v)
	v, decimals := round(v) // 9.96 has become 10
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

// Megapixels writes a number of pixels: to two digits below ten megapixels, to
// whole ones above.
func Megapixels(pixels int) string {
	mp := float64(pixels) / 1e6
	if mp >= 9.95 || pixels <= 0 {
		return fmt.Sprintf("%.0f MP", mp)
	}
	return Two(mp) + " MP"
}

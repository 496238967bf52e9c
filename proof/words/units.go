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

// Megapixels writes a number of pixels: to two digits below ten megapixels, to
// whole ones above.
func Megapixels(pixels int) string {
	mp := float64(pixels) / 1e6
	if mp >= 9.95 || pixels <= 0 {
		return fmt.Sprintf("%.0f MP", mp)
	}
	unit := math.Pow(10, math.Floor(math.Log10(mp))-1)
	decimals := max(0, -int(math.Floor(math.Log10(unit))))
	return strconv.FormatFloat(math.Round(mp/unit)*unit, 'f', decimals, 64) + " MP"
}

package export

import (
	"math"

	"threeply/proof/place"
)

// Behind is the plate behind a pixel of a file.
type Behind struct {
	Path  *place.Path // from the file's pixel to the plate's; nil where the file does without the plate
	Reach int         // how many rows before and after a place count with it
	H     int         // of the plate
}

// slack is how far off, in pixels of a plate, rounding may bring a place.
const slack = 1.0 / 64

// Needs are the rows of the plates, from … to-1, by source, behind rows y0 … y1-1 of a
// picture that is w pixels wide. They may be none.
func Needs(behind [3]Behind, w, y0, y1 int) (rows [3][2]int) {
	for i, b := range behind {
		if b.Path == nil || y0 >= y1 {
			continue
		}
		low, high := b.Path.Rows(0, float64(y0), float64(w-1), float64(y1-1))
		from := min(max(math.Floor(low-slack)-float64(b.Reach), 0), float64(b.H))
		to := min(max(math.Floor(high+slack)+float64(b.Reach)+1, 0), float64(b.H))
		if from < to {
			rows[i] = [2]int{int(from), int(to)}
		}
	}
	return rows
}

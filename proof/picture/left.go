package picture

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/register"
)

// MostLeft bounds what is kept of a plate's residual field.
const MostLeft = 120

// left thins a residual field over a w × h picture to at most MostLeft
// offsets, one a cell of a grid, so that no part of the picture is lost, in
// the order of Hotter.
func left(field []register.Offset, w, h int) []register.Offset {
	nx := min(max(int(math.Sqrt(MostLeft*float64(w)/float64(h))), 1), MostLeft)
	ny := MostLeft / nx
	cells := map[[2]int]register.Offset{}
	for _, o := range field {
		at := [2]int{min(int(o.X*float64(nx)/float64(w)), nx-1), min(int(o.Y*float64(ny)/float64(h)), ny-1)}
		if held, ok := cells[at]; !ok || Hotter(o, held) < 0 {
			cells[at] = o
		}
	}
	var out []register.Offset
	for _, o := range cells {
		out = append(out, o)
	}
	slices.SortFunc(out, Hotter)
	return out
}

// Hotter orders offsets: those that agree by their length times their
// certainty, the largest first, then the outvoted, the surest first.
func Hotter(a, b register.Offset) int {
	if a.Outvoted != b.Outvoted {
		if a.Outvoted {
			return 1
		}
		return -1
	}
	heat := func(o register.Offset) float64 {
		if o.Outvoted {
			return o.Certainty
		}
		return math.Hypot(o.DX, o.DY) * o.Certainty
	}
	return cmp.Or(cmp.Compare(heat(b), heat(a)), cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X))
}

// ArrowScale is how many pixels of the screen an offset of one pixel is drawn
// long, a round number: such that of the offsets that agree all but one in
// twenty are no longer than long. It is 0 where none agrees.
func ArrowScale(fields [3][]register.Offset, long float64) float64 {
	var sizes []float64
	for _, field := range fields {
		for _, o := range field {
			if !o.Outvoted {
				sizes = append(sizes, math.Hypot(o.DX, o.DY))
			}
		}
	}
	if len(sizes) == 0 {
		return 0
	}
	slices.Sort(sizes)
	return RoundDown(min(long/max(sizes[(len(sizes)-1)*95/100], 1e-9), 1000))
}

// RoundDown is the largest of …, 0.1, 0.2, 0.5, 1, 2, 5, 10, … that does not
// exceed x > 0.
func RoundDown(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{5, 2} {
		if k*power <= x*(1+1e-12) {
			return k * power
		}
	}
	return power
}

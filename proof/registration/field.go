package registration

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
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

// Hotter orders offsets: first those that were measured with certainty and lie
// elsewhere, the largest first, then those that agree by their length times their
// certainty, then the other outvoted, the surest first.
func Hotter(a, b register.Offset) int {
	class := func(o register.Offset) int {
		switch {
		case !o.Outvoted:
			return 1
		case o.Sure():
			return 0
		}
		return 2
	}
	heat := func(o register.Offset) float64 {
		switch class(o) {
		case 0:
			return math.Hypot(o.DX, o.DY)
		case 1:
			return math.Hypot(o.DX, o.DY) * o.Certainty
		}
		return o.Certainty
	}
	return cmp.Or(cmp.Compare(class(a), class(b)), cmp.Compare(heat(b), heat(a)), cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X))
}

// Rests are residual fields, by source, as the picture is drawn: less the local
// register of the plates that are bent by it.
func Rests(s *session.State, fields [3][]register.Offset) (out [3][]register.Offset) {
	for i, field := range fields {
		out[i] = field
		l := place.Local(s, i)
		if l == nil {
			continue
		}
		out[i] = slices.Clone(field)
		for k, o := range field {
			dx, dy := l.At(o.X, o.Y)
			out[i][k].DX, out[i][k].DY = o.DX-dx, o.DY-dy
		}
	}
	return out
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

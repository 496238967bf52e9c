package plate

import (
	"math"
	"slices"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// What is taken for the rebate of a negative: film beside the picture, even, no
// thinner than any film, and about as thin as the picture's thinnest half per
// cent. Sides that show it agree.
const (
	clearestFilm  = 0.02 // density; the scanner's bare light lies below
	abovePicture  = 0.08 // that the rebate may be denser than the picture's thinnest
	belowPicture  = 0.40 // and thinner
	evenRebate    = 0.03 // spread along a side
	sidesAgree    = 0.04
	rebateSamples = 4000 // pixels looked at on a side
)

// rebate returns the density of base and fog as the film beside the picture
// shows it, the mean of the sides that agree, or 0 where none does. thin is the
// density of the picture's thinnest half per cent.
func (t *tones) rebate(film *plane.Plane, around [4]border, thin float64) float64 {
	var found []float64
	for s, b := range around {
		if b.lines == 0 {
			continue
		}
		d, spread := t.strip(film, side(s), b)
		if spread < evenRebate && d > clearestFilm && d < thin+abovePicture && d > thin-belowPicture {
			found = append(found, d)
		}
	}
	if len(found) == 0 {
		return 0
	}
	slices.Sort(found)
	middle, sum, n := found[len(found)/2], 0.0, 0.0
	for _, d := range found {
		if math.Abs(d-middle) < sidesAgree {
			sum += d
			n++
		}
	}
	return sum / n
}

// strip reads the film next to the picture on one side, over the middle 60 % of
// its length: the median density and half the distance between its tenths.
func (t *tones) strip(film *plane.Plane, s side, b border) (d, spread float64) {
	inner := max(b.lines-2*b.step, 1)     // outside the soft edge, in lines of the tones
	outer := max(inner-max(b.step, 2), 0) // and as far again outside that
	depth, length := film.W, film.H
	if s == top || s == bottom {
		depth, length = length, depth
	}
	from, to := outer*t.scale, min(inner*t.scale, depth)
	skip := max(3*length/5*(to-from)/rebateSamples, 1)
	var all []float64
	for k := 0; k < 3*length/5*(to-from); k += skip {
		line, along := from+k%(to-from), length/5+k/(to-from)
		if s == right || s == bottom {
			line = depth - 1 - line
		}
		x, y := line, along
		if s == top || s == bottom {
			x, y = y, x
		}
		all = append(all, density.Of(film.At(x, y)))
	}
	if len(all) == 0 {
		return 0, math.Inf(1)
	}
	slices.Sort(all)
	return quantile(all, 0.5), (quantile(all, 0.9) - quantile(all, 0.1)) / 2
}

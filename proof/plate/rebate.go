package plate

import (
	"math"
	"slices"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// What is taken for the rebate of a negative: film beside the picture that is even, no
// clearer than film can be, and about as thin as the thinnest half per cent of the
// picture. The bounds are densities, common practice without a source;
// TestBaseFromTheRebate holds them.
const (
	clearestFilm  = 0.02 // the scanner's bare light lies below
	abovePicture  = 0.08 // the rebate may be denser than the picture's thinnest part by this
	belowPicture  = 0.40 // and thinner by this
	evenRebate    = 0.03 // spread along a side, see strip
	sidesAgree    = 0.04 // a side counts that lies this close to the middle one
	rebateSamples = 4000 // pixels looked at on a side, about
)

// rebate returns the density of base and fog as the film beside the picture shows it:
// the mean of the sides that agree, 0 where no side shows it. d is the density plane,
// thin the density of the picture's thinnest half per cent.
func (t *tones) rebate(d *plane.Plane, around [4]border, thin float64) float64 {
	var found []float64
	for s, b := range around {
		if b.lines == 0 {
			continue
		}
		base, spread := t.strip(d, side(s), b)
		if spread < evenRebate && base > clearestFilm && base < thin+abovePicture && base > thin-belowPicture {
			found = append(found, base)
		}
	}
	if len(found) == 0 {
		return 0
	}
	slices.Sort(found)
	middle, sum, n := found[len(found)/2], 0.0, 0.0
	for _, base := range found {
		if math.Abs(base-middle) < sidesAgree {
			sum += base
			n++
		}
	}
	return sum / n
}

// strip reads the film beside the picture on one side, over the middle 60 % of its
// length: the median of its densities, and half of what lies between their 10th and
// 90th percentile; infinite where there is nothing to read.
func (t *tones) strip(d *plane.Plane, s side, b border) (median, spread float64) {
	inner := max(b.lines-2*b.step, 1)     // where the strip ends: outside the soft edge, in lines of the tones
	outer := max(inner-max(b.step, 2), 0) // where it begins
	depth, length := d.W, d.H
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
		all = append(all, density.Of(d.At(x, y)))
	}
	if len(all) == 0 {
		return 0, math.Inf(1)
	}
	slices.Sort(all)
	return quantile(all, 0.5), (quantile(all, 0.9) - quantile(all, 0.1)) / 2
}

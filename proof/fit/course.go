package fit

import (
	"math"
	"slices"

	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/testsheet"
)

// leastLeft is the least amount that counts as something.
const leastLeft = 0.004

// printed is what exposures leave of a layer, as its steps tell it.
type printed struct {
	steps     []Step
	first     int     // the first step that left something; -1 where none did
	threshold float64 // log exposure at which the curve comes down to nothing
	holds     float64 // the amount from which on a coat is taken to hold in the wash
}

// printed tells it of a layer.
func (f *fitted) printed(layer int) printed {
	p := f.unpack(f.x)
	cov, n := f.covariance(), f.size()
	c := printed{steps: []Step{}}
	for k, e := range f.knots[layer] {
		variance := 0.0
		for a := f.iT(layer, 0); a <= f.iT(layer, k); a++ {
			for b := f.iT(layer, 0); b <= f.iT(layer, k); b++ {
				variance += cov[a*n+b]
			}
		}
		c.steps = append(c.steps, Step{e, p.amount[layer][k], math.Sqrt(max(variance, 0))})
	}
	c.first = slices.IndexFunc(c.steps, func(s Step) bool { return s.Amount > max(leastLeft, 2*s.Sigma) })
	if c.first >= 0 {
		c.begins(relief.DefaultHoldOn / f.palette.Layer(pigment.Printer(layer)).CoatMicron)
	}
	return c
}

// begins finds where the curve comes down to nothing: along the line of its first steps that
// left something, no lower than the step before. What holds lies somewhere between the least
// that did and what the line leaves at the step before, which did not; between these it is
// usual, which is taken to be likely.
func (c *printed) begins(usual float64) {
	one := c.steps[c.first]
	c.threshold, c.holds = one.LogE, min(usual, one.Amount)
	slope := 0.0
	if c.first+1 < len(c.steps) {
		next := c.steps[c.first+1]
		slope = (next.Amount - one.Amount) / (next.LogE - one.LogE)
	}
	if slope > 0 {
		c.threshold -= one.Amount / slope
	}
	if c.first > 0 {
		before := c.steps[c.first-1].LogE
		c.holds = min(max(usual, one.Amount-slope*(one.LogE-before)), one.Amount)
		c.threshold = max(c.threshold, before)
	}
}

// wedge is the curve in amounts, from the threshold on; nil where nothing was left.
func (c *printed) wedge() []pigment.Printed {
	if c.first < 0 {
		return nil
	}
	out := []pigment.Printed{{LogExposure: c.threshold}}
	for _, s := range c.steps[c.first:] {
		if s.LogE > c.threshold {
			out = append(out, pigment.Printed{LogExposure: s.LogE, Micron: s.Amount})
		}
	}
	return out
}

// leaves is the amount that an exposure leaves, which need be that of no step: by the curve
// and the least height that the tissue will have.
func (c *printed) leaves(logE float64) float64 {
	w := c.wedge()
	if len(w) < 2 {
		return 0
	}
	if t := relief.Along(w, logE); t >= c.holds {
		return t
	}
	return 0
}

// fineStep is the log exposure between two steps up to which they tell well where a layer begins.
const fineStep = 0.12

// unsureWhere is the layer that begins in the widest gap between two steps of those that are wider
// than fineStep; -1 where none does. A sheet that is laid by what was found has fine steps there.
func (f *fitted) unsureWhere() int {
	layer, widest := -1, fineStep
	for l := range 3 {
		c := f.printed(l)
		if c.first <= 0 {
			continue
		}
		if wide := c.steps[c.first].LogE - c.steps[c.first-1].LogE; wide > widest+1e-9 {
			layer, widest = l, wide
		}
	}
	return layer
}

// likely is amounts for a patch whose exposures need be those of no step.
func (f *fitted) likely(patch testsheet.Patch) (t [3]float64) {
	for l, has := range patch.Has {
		if has {
			c := f.printed(l)
			t[l] = c.leaves(patch.LogE[l])
		}
	}
	return t
}

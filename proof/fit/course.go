package fit

import (
	"fmt"
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
	threshold float64 // log exposure from which on something is likely enough to be left
	holds     float64 // the amount that counts as something there
	foot      foot    // the curve below the first step
}

// foot is a curve below the first step that left something: amount = (slope·(logE − zero))². A
// rounded foot lies between the straight line and the exponential through the first steps, and so
// does this parabola (assumed). The least amount that holds in the wash lies anywhere between lost
// and sure, all alike.
type foot struct {
	slope, zero float64 // slope is 0 where there is no foot
	lost, sure  float64
}

// likely is the amount that an exposure leaves on average over all that may hold.
func (f foot) likely(logE float64) float64 {
	root := f.slope * max(logE-f.zero, 0)
	t := root * root
	return t * min(max((t-f.lost)/(f.sure-f.lost), 0), 1)
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

// How a curve begins (assumed).
const (
	footSpan = 0.1  // least log exposure by which two steps tell how steep the foot is
	hardly   = 0.25 // chance that something is left, below which nothing is taken to be
)

// begins finds where the curve comes down to nothing. What holds lies between what the foot has at
// the last step that left nothing and the least that was left; it is hardly more than twice what is
// usual, if the steps do not contradict that.
func (c *printed) begins(usual float64) {
	one := c.steps[c.first]
	c.threshold, c.holds = one.LogE, min(usual, one.Amount)
	i := slices.IndexFunc(c.steps, func(s Step) bool { return s.LogE > one.LogE+footSpan-1e-9 })
	if i < 0 || c.steps[i].Amount <= one.Amount {
		return
	}
	f, root := &c.foot, math.Sqrt(one.Amount)
	f.slope = (math.Sqrt(c.steps[i].Amount) - root) / (c.steps[i].LogE - one.LogE)
	f.zero = one.LogE - root/f.slope
	if c.first > 0 {
		least := f.slope * max(c.steps[c.first-1].LogE-f.zero, 0)
		f.lost = least * least
	}
	if f.sure = 2 * usual; f.sure <= f.lost || f.sure > one.Amount {
		f.sure = one.Amount
	}
	some := f.lost + hardly*(f.sure-f.lost)
	c.threshold, c.holds = f.zero+math.Sqrt(some)/f.slope, hardly*some
}

// wedge is the curve in amounts, from the threshold on; nil where nothing was left.
func (c *printed) wedge() []pigment.Printed {
	if c.first < 0 {
		return nil
	}
	out := []pigment.Printed{{LogExposure: c.threshold}}
	const parts = 4
	wide := (c.steps[c.first].LogE - c.threshold) / parts
	for k := 1; k < parts && c.foot.slope > 0; k++ {
		e := c.threshold + wide*float64(k)
		out = append(out, pigment.Printed{LogExposure: e, Micron: c.foot.likely(e)})
	}
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
const fineStep = 0.08

// farOff is the ΔE00 of an overprint that was held out from which on it is worth another sheet.
const farOff = 2.0

// unsureWhere is the layer for which it matters most that it begins somewhere between two steps; -1
// where it matters for none. It is that of the held-out patch that is farthest off, by farOff or more,
// and lies between these steps, else that whose steps are farthest apart, by more than fineStep. All
// held-out patches there are named in the notes. A sheet that is laid by what was found has fine steps
// there.
func (f *fitted) unsureWhere(out *Result) int {
	layer, most := -1, fineStep+1e-9
	for l := range 3 {
		c := f.printed(l)
		if c.first <= 0 {
			continue
		}
		from, to := c.steps[c.first-1].LogE, c.steps[c.first].LogE
		matters := to - from
		for _, p := range out.Patches {
			at, _ := f.Sheet.Find(p.ID)
			if p.Use != testsheet.HeldOut || !at.Has[l] || at.LogE[l] <= from || at.LogE[l] >= to {
				continue
			}
			out.Notes = append(out.Notes, fmt.Sprintf("%s: it is not told whether its %s layer holds, which begins somewhere between two steps there.", p.ID, pigment.Printer(l)))
			if p.DE00 > farOff {
				matters = max(matters, p.DE00)
			}
		}
		if matters > most {
			layer, most = l, matters
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

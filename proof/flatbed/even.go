package flatbed

import (
	"math"
	"slices"

	"threeply/proof/linear"
	"threeply/proof/setter"
	"threeply/proof/testsheet"
)

// evenness is how the light over the sheet differs from its mean: the natural logarithm of its
// share, as a surface of the second degree, by channel, of what the bare paper between the
// patches gave.
type evenness struct {
	by   [3][6]float64
	w, h float64 // of the patches, in mm
	Most float64 // share by which it differs at most over the patches
}

const (
	gapShare  = 0.6 // part of the gap between patches that is looked at
	leastGaps = 30  // that tell of the light
	dirtyGap  = 3.0 // standard deviations from which on a place is left out
	evenTurns = 3
)

// terms are those of the surface at mm of the sheet.
func (e *evenness) terms(u, v float64) [6]float64 {
	x, y := 2*u/e.w-1, 2*v/e.h-1
	return [6]float64{1, x, y, x * x, x * y, y * y}
}

// light is the share of the mean light at mm of the sheet.
func (e *evenness) light(ch int, u, v float64) float64 {
	sum := 0.0
	for i, t := range e.terms(u, v) {
		sum += e.by[ch][i] * t
	}
	return math.Exp(sum)
}

// evennessOf is that of a sheet that lies somewhere. see gives the shares of light reflected about
// a place of it, in mm; ok is false where it does not. Where too few places can be seen, the light
// is taken to be even.
func evennessOf(sheet testsheet.Sheet, see func(u, v, side float64) (r [3]float64, ok bool)) *evenness {
	_, middle := setter.TestPlaces(sheet)
	w, high := sheetSize(sheet)
	e := &evenness{w: w, h: high}
	step := middle(testsheet.Patch{Row: 1, Col: 1})[0] - middle(testsheet.Patch{})[0]
	side := gapShare * (step - setter.PatchSide)
	var at [][6]float64
	var light [3][]float64
	for row := range sheet.DarkRow { // the row on black has no paper below it
		for col := range sheet.Cols + 1 {
			u, v := step*float64(col), step*float64(row)
			r, ok := see(u, v, side)
			if !ok {
				continue
			}
			at = append(at, e.terms(u, v))
			for ch := range r {
				light[ch] = append(light[ch], math.Log(r[ch]))
			}
		}
	}
	if len(at) < leastGaps {
		return e
	}
	for ch := range light {
		kept := make([]bool, len(at))
		for i := range kept {
			kept[i] = true
		}
		for range evenTurns {
			var h [36]float64
			var b [6]float64
			for i, t := range at {
				if !kept[i] {
					continue
				}
				for j := range t {
					b[j] += t[j] * light[ch][i]
					for k := range t {
						h[6*j+k] += t[j] * t[k]
					}
				}
			}
			if !linear.Solve(h[:], b[:], 0) {
				return &evenness{w: w, h: high}
			}
			e.by[ch] = b
			var off []float64
			for i, t := range at {
				miss := light[ch][i]
				for j := range t {
					miss -= b[j] * t[j]
				}
				off = append(off, math.Abs(miss))
			}
			sorted := slices.Clone(off)
			slices.Sort(sorted)
			sigma := 1.4826 * sorted[len(sorted)/2] // a median, for dirt is no light
			for i := range kept {
				kept[i] = off[i] <= max(dirtyGap*sigma, 1e-3)
			}
		}
		e.by[ch][0] = 0
		mean, n := 0.0, 0.0
		for _, p := range sheet.Patches {
			m := middle(p)
			mean, n = mean+math.Log(e.light(ch, m[0], m[1])), n+1
		}
		e.by[ch][0] = -mean / n
		for _, p := range sheet.Patches {
			m := middle(p)
			e.Most = max(e.Most, math.Abs(e.light(ch, m[0], m[1])-1))
		}
	}
	return e
}

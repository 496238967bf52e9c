package fit

import (
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Rows can be swapped where so many of their patches do not belong to the rest, and how much better
// these must agree with the fit once they are exchanged.
const (
	leastSwapped = 2
	fitBetter    = 0.4 // in squares of what they differ by
)

// swapped tells by the fit itself whether two rows were swapped, whatever the palette was taken to
// print: most patches that were left out lie in two rows, and there the tissues as fitted print
// much better what was read with the rows exchanged. What is held out has no part in it.
func (f *fitted) swapped() *Misread {
	l := f.layers()
	off := func(p testsheet.Patch, id string) (squares float64, ok bool) {
		one, ok := f.Readings.by[id]
		if !ok || p.Use == testsheet.HeldOut {
			return 0, false
		}
		r := f.reflectance(l, p, [3]float64{})
		is, read := [3]float64(f.Readings.light.Lab(r)), [3]float64(one.lab)
		if f.Readings.byDensity() {
			is, read = f.Readings.status.Densities(r), one.density
		}
		for k := range is {
			squares += (read[k] - is[k]) * (read[k] - is[k])
		}
		return squares, true
	}
	var best *Misread
	most := 0.0
	for a := range f.Sheet.Rows {
		for b := range a {
			out, plain, now := 0, 0.0, 0.0
			m := swap(&f.Sheet, b, a)
			for _, p := range f.Sheet.Patches {
				if p.Row != a && p.Row != b {
					continue
				}
				if f.beside[p.ID] {
					out++
				}
				was, ok := off(p, p.ID)
				is, known := off(p, m.from[p.ID])
				if ok && known {
					plain, now = plain+was, now+is
				}
			}
			if out >= leastSwapped && 2*out > len(f.beside) && now < fitBetter*plain && plain-now > most {
				best, most = m, plain-now
			}
		}
	}
	return best
}

// reflectance is that of a patch as the layers print it where its coats differ by so much.
func (f *fitted) reflectance(l *stack.Layers, p testsheet.Patch, own [3]float64) spectrum.Curve {
	on := *l
	ground, ok := f.ground[p.Ground]
	if !ok {
		ground = f.Recipe.Paper.R
	}
	for i, v := range ground {
		on.Ground[i] = l.Surface.Inside(v)
	}
	t := f.likely(p)
	for i := range t {
		t[i] *= 1 + own[i]
	}
	return on.Reflectance(t)
}

// Misread tells whether the fit itself shows that two rows were swapped; nil where it does not.
// Once the readings are mended by it they are to be fitted anew.
func (r *Result) Misread() *Misread { return r.misread }

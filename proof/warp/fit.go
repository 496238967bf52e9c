package warp

import (
	"math"

	"threeply/proof/linear"
)

// Place is a place of the key where the displacement was measured.
type Place struct {
	X, Y   float64 // pixels of the key
	DX, DY float64 // what the plate shows there lies so far off, pixels of the key
	Weight float64 // how far to believe it, above 0
}

// fewestPlaces is the least number of places that a displacement is fitted to:
// three times as many numbers as either of its parts has coefficients, nearly.
const fewestPlaces = 20

// Fit fits a displacement to places of a key of w × h pixels. ok is false where
// there are fewer than 20, or where the fit would fold. Whether it is worth
// switching on, Before and After tell: of stiff film it follows chance errors of the places.
func Fit(places []Place, w, h int) (l Local, ok bool) {
	l = Local{W: w, H: h}
	if len(places) < fewestPlaces || w < 2 || h < 2 {
		return l, false
	}
	const folds = 5
	var before, after []float64
	for fold := range folds {
		part := Local{W: w, H: h}
		var seen []Place
		for i, p := range places {
			if i%folds != fold {
				seen = append(seen, p)
			}
		}
		part.fit(seen)
		for i, p := range places {
			if i%folds == fold {
				dx, dy := part.At(p.X, p.Y)
				before = append(before, math.Hypot(p.DX, p.DY))
				after = append(after, math.Hypot(p.DX-dx, p.DY-dy))
			}
		}
	}
	l.Before, l.After = Summary(before), Summary(after)
	l.fit(places)
	return l, !l.Folds()
}

// ridge is the share of the places' weight that is added to the diagonal of the
// normal equations: it holds down what the places do not decide.
const ridge = 0.003

// fit solves the normal equations of both parts, each place by its weight.
func (l *Local) fit(places []Place) {
	var a [terms * terms]float64
	var b [terms * 2]float64
	var all float64
	for _, p := range places {
		v := l.basis(p.X, p.Y)
		all += p.Weight
		for i := range v {
			for j := range v {
				a[i*terms+j] += p.Weight * v[i] * v[j]
			}
			b[2*i] += p.Weight * v[i] * p.DX
			b[2*i+1] += p.Weight * v[i] * p.DY
		}
	}
	for i := range terms {
		a[i*terms+i] += ridge * all
	}
	if !linear.Solve(a[:], b[:], 0) {
		return // places without any weight move nothing
	}
	for i := range terms {
		l.CX[i], l.CY[i] = b[2*i], b[2*i+1]
	}
}

package register

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/warp"
)

// fewPlaces is the number of places below which those that were measured with less
// certainty count too.
const fewPlaces = 12

// offsets turns the patches measured at level l into offsets of the key's full
// size, and sums up the places measured with certainty, also those further than
// tol, in pixels of the level, from the map. Where those are few, and where the
// picture has bent, so that a place is known by its neighbours, all that agree
// count with them.
func offsets(patches []measured, l int, tol float64, bent bool) ([]Offset, warp.Residual) {
	scale := float64(int(1) << l)
	var field []Offset
	var certain, agreed []float64
	for _, p := range patches {
		x, y := affine.FromLevel(l).Apply(p.x, p.y)
		e := math.Hypot(p.dx, p.dy)
		o := Offset{X: x, Y: y, DX: p.dx * scale, DY: p.dy * scale, Certainty: certainty(p), Error: scale * standardError(p), Outvoted: !p.agrees(tol)}
		if o.Sure() {
			certain = append(certain, e*scale)
		}
		if o.Sure() || !o.Outvoted {
			agreed = append(agreed, e*scale)
		}
		field = append(field, o)
	}
	if bent || len(certain) < fewPlaces {
		certain = agreed
	}
	return field, warp.Summary(certain)
}

// standardError is that of a patch, both ways together, in pixels of its level.
func standardError(p measured) float64 {
	c := p.precision.Inverse()
	if e := math.Sqrt(c.XX + c.YY); e < farthestOff {
		return e
	}
	return farthestOff
}

// farthestOff stands for the error of a patch that says nothing.
const farthestOff = 1e4

// Smooth fits a smooth displacement to the offsets of a plate that agree, for a
// key of w × h pixels, each by its certainty and its error; see warp.Fit.
func Smooth(field []Offset, w, h int) (warp.Local, bool) {
	const exact = 0.1 // pixels of error at which a place counts for half
	var places []warp.Place
	for _, o := range field {
		if !o.Outvoted && o.Certainty > 0 {
			places = append(places, warp.Place{X: o.X, Y: o.Y, DX: o.DX, DY: o.DY, Weight: o.Certainty * exact * exact / (exact*exact + o.Error*o.Error)})
		}
	}
	return warp.Fit(places, w, h)
}

// certainty joins how well a patch fits and how alone that place is; it is enough where its
// neighbours vouch for the patch, and halved where none backs it.
func certainty(p measured) float64 {
	if !p.settled {
		return 0
	}
	c := min(max(p.score, 0), 1) * ramp(p.unique, 0, uniqueEnough)
	if p.vouched {
		c = max(c, certainFrom)
	}
	if p.alone {
		c /= 2
	}
	return c
}

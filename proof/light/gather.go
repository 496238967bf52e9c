package light

import (
	"math"

	"threeply/proof/overlay"
	"threeply/proof/tone"
)

// Densities that say nothing of the scene: so near the scanner's clear or black
// limit, or so near a negative's base and fog; and light by so many doublings
// above the plate's own white that it must be dirt on a negative or a hole in a
// positive.
const (
	clearBelow = 0.01
	blackAbove = 3.9
	blankBelow = 0.02
	dirtAbove  = 1.0
)

// Gather takes a picture from registered plates, reduced to Side points: the
// exposure that each film gives its density, with what its base and fog alone
// would give taken off. base is the density of base and fog, below 0 where it
// is not known; the films' White is the densest useful density of a negative,
// the thinnest of a positive. Only the picture within the borders of all three plates is
// used, and of it nothing that one plate clips or leaves blank.
func Gather(p *overlay.Plates, films [3]tone.Film, base [3]float64) *Picture {
	level := 0
	for w, h := p.Size(); max(w, h)>>level > Side; {
		level++
	}
	small, _ := p.Reduced(level)
	w, h := small.Size()
	out := &Picture{W: w, H: h, Use: make([]bool, w*h)}
	var veil [3]float64
	for i := range out.Exposure {
		out.Exposure[i] = make([]float64, w*h)
		if films[i].Negative && base[i] >= 0 {
			veil[i] = math.Pow(10, films[i].LogExposure(base[i]))
		}
	}
	for y := range h {
		for x := range w {
			at, use := y*w+x, small.InPicture(float64(x), float64(y))
			for i, f := range films {
				d, ok := small.Density(i, float64(x), float64(y))
				use = use && ok && d > clearBelow && d < blackAbove
				if f.Negative && base[i] >= 0 {
					use = use && d > base[i]+blankBelow
				}
				h := f.LogExposure(d)
				use = use && h < dirtAbove*math.Log10(2)
				out.Exposure[i][at] = max(math.Pow(10, h)-veil[i], 0)
			}
			out.Use[at] = use
		}
	}
	return out
}

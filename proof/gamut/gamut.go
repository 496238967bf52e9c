// Package gamut brings colours that a display cannot show to ones that it can, at
// the same hue and lightness.
package gamut

import (
	"math"

	"threeply/proof/spectrum"
)

// Gamut is what a display of an RGB space can show.
type Gamut struct {
	fromXYZ   [9]float64 // XYZ under DisplayWhite, Y 100, to linear RGB, white 1
	fromCones [9]float64 // signals of cones, as OKLab has them, to linear RGB
}

// Of returns the gamut of a space.
func Of(s spectrum.RGBSpace) *Gamut {
	g := &Gamut{fromXYZ: s.FromXYZ(spectrum.DisplayWhite)}
	for j := range 3 {
		x := spectrum.XYZ{spectrum.XYZOfCones[j], spectrum.XYZOfCones[3+j], spectrum.XYZOfCones[6+j]}
		for i, v := range spectrum.Transform(g.fromXYZ, x) {
			g.fromCones[3*i+j] = 100 * v
		}
	}
	return g
}

// Knee is the share of the largest chroma up to which a colour is shown as it is.
// From there to the boundary and beyond chromas are pressed together, so that a
// gradient that leaves the gamut shows no edge where it does; what lies on the
// boundary itself loses 1 % of its chroma by it.
const Knee = 0.97

// Show returns the linear RGB, 0 … 1, that stands for a colour given as XYZ under
// DisplayWhite (Bradford-adapted to it where it was seen in another light).
//
// In OKLab lightness and hue stay and chroma C becomes, where Cmax is the largest
// at that lightness and hue that the display has,
//
//	C                                           up to Knee·Cmax
//	Cmax (1 - (1-Knee) e^(-(C/Cmax-Knee)/(1-Knee)))   beyond
//
// The first is what CSS Color Module Level 4, section 13, does at a gamut's
// boundary (chroma reduction in OKLCh at constant lightness and hue), without its
// last step, a clip that turns hues; the second rounds the corner. Lighter than
// white is white, darker than black black.
func (g *Gamut) Show(x spectrum.XYZ) [3]float64 {
	o := x.OKLab()
	switch {
	case math.IsNaN(o[0]+o[1]+o[2]) || o[0] <= 0:
		return [3]float64{}
	case o[0] >= 1:
		return [3]float64{1, 1, 1}
	}
	r := g.ray(o)
	if r.shown(1 / Knee) {
		return inside(r.at(1))
	}
	most := r.most()
	if most <= 0 {
		return inside(r.at(0))
	}
	over := max((1/most-Knee)/(1-Knee), 0)
	return inside(r.at(min(1, most*(1-(1-Knee)*math.Exp(-over)))))
}

// Holds tells whether the display has a colour, to a rounding error.
func (g *Gamut) Holds(x spectrum.XYZ) bool {
	for _, v := range spectrum.Transform(g.fromXYZ, x) {
		if !(v >= -rounding && v <= 1+rounding) {
			return false
		}
	}
	return true
}

const rounding = 1e-6

// Miss is how far what is shown is from the colour, as CIEDE2000; 0 where the
// display has the colour.
func (g *Gamut) Miss(x spectrum.XYZ) float64 {
	if g.Holds(x) {
		return 0
	}
	shown := spectrum.Transform(spectrum.Inverse(g.fromXYZ), g.Show(x))
	return spectrum.DeltaE00(x.Lab(spectrum.DisplayWhite), shown.Lab(spectrum.DisplayWhite))
}

// ray is the linear RGB of the colours of one lightness and hue, each channel a
// cubic of the chroma, which is 1 at the colour that it was made for.
type ray [3][4]float64

func (g *Gamut) ray(o spectrum.OKLab) ray {
	var r ray
	for i := range 3 { // cones, whose roots are a + b t
		a := spectrum.RootsOfOKLab[3*i] * o[0]
		b := spectrum.RootsOfOKLab[3*i+1]*o[1] + spectrum.RootsOfOKLab[3*i+2]*o[2]
		for ch := range r {
			m, p := g.fromCones[3*ch+i], &r[ch]
			p[0] += m * a * a * a
			p[1] += m * 3 * a * a * b
			p[2] += m * 3 * a * b * b
			p[3] += m * b * b * b
		}
	}
	return r
}

func (r *ray) at(t float64) [3]float64 {
	var rgb [3]float64
	for ch := range r {
		p := &r[ch]
		rgb[ch] = p[0] + t*(p[1]+t*(p[2]+t*p[3]))
	}
	return rgb
}

// shown tells whether the display has the colour at t.
func (r *ray) shown(t float64) bool {
	for ch := range r {
		p := &r[ch]
		if v := p[0] + t*(p[1]+t*(p[2]+t*p[3])); v < 0 || v > 1 {
			return false
		}
	}
	return true
}

// most is the largest t up to 1/Knee that the display has.
func (r *ray) most() float64 {
	low, high := 0.0, 1/Knee
	for range 30 {
		if mid := (low + high) / 2; r.shown(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// inside takes rounding errors off.
func inside(rgb [3]float64) [3]float64 {
	for i, v := range rgb {
		rgb[i] = min(max(v, 0), 1)
	}
	return rgb
}

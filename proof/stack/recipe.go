package stack

import (
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
)

// Recipe says how the print is made.
type Recipe struct {
	Palette pigment.Palette
	Order   Order
	Paper   Paper
	Surface Surface
}

// Optics is how light crosses the layers: as it was found of a measured palette.
func (r Recipe) Optics() Optics {
	if m := r.Palette.Measured; m != nil && m.Angular {
		return Angular
	}
	return TwoFlux
}

// DefaultRecipe puts a palette in the usual order on the default paper, glossy.
func DefaultRecipe(p pigment.Palette) Recipe {
	return Recipe{Palette: p, Order: DefaultOrder, Paper: Papers()[0], Surface: Gloss.Surface}
}

// Reflectance returns what is measured at the surface where the layers have
// the relative thicknesses t, by printer. No pigment returns the paper.
func (r Recipe) Reflectance(t [3]float64) spectrum.Curve {
	return r.Layers().Reflectance(t)
}

// Layers is a recipe made ready: the spectra of its layers from the paper up
// and the inner reflectance of its paper.
type Layers struct {
	Order   Order
	K, S    [3]spectrum.Curve // by printer
	Ground  spectrum.Curve    // inner reflectance of the paper
	Surface Surface
	Optics  Optics
}

// Layers works the recipe out. What is computed often for one recipe should
// start from it.
func (r Recipe) Layers() *Layers {
	l := &Layers{Order: r.Order, Surface: r.Surface, Optics: r.Optics()}
	for _, p := range pigment.Printers() {
		l.K[p], l.S[p] = r.Palette.Layer(p).KS()
	}
	for i, v := range r.Paper.R {
		l.Ground[i] = r.Surface.Inside(v)
	}
	return l
}

// Reflectance is Recipe.Reflectance.
func (l *Layers) Reflectance(t [3]float64) spectrum.Curve {
	var out spectrum.Curve
	for i := range out {
		r := l.Ground[i]
		for _, p := range l.Order {
			r0, tr := Film(l.K[p][i], l.S[p][i], t[p])
			r = Over(r0, tr, r)
		}
		out[i] = l.Surface.Outside(r)
		if l.Optics == Angular {
			more, _, _ := l.Surface.Slanting(l.absorbed(i, t), l.Ground[i])
			out[i] += more
		}
	}
	return out
}

// absorbed is the sum of K times the thickness of all layers at a sample.
func (l *Layers) absorbed(i int, t [3]float64) float64 {
	return l.K[0][i]*t[0] + l.K[1][i]*t[1] + l.K[2][i]*t[2]
}

// Slopes returns the reflectance and its derivatives by the three relative
// thicknesses. Of one film
//
//	dR/dx = S T²    dT/dx = -T (K + S - S R)
//
// (P. Kubelka and F. Munk, Z. techn. Physik 12, 1931, 593; the differential
// equations themselves).
func (l *Layers) Slopes(t [3]float64) (out spectrum.Curve, by [3]spectrum.Curve) {
	for i := range out {
		r := l.Ground[i]
		var d [3]float64
		for _, p := range l.Order {
			k, s := l.K[p][i], l.S[p][i]
			r0, tr := Film(k, s, t[p])
			n := 1 / (1 - r0*r)
			through := tr * tr * n * n // d(Over)/d(below)
			for j := range d {
				d[j] *= through
			}
			dr, dt := s*tr*tr, -tr*(k+s-s*r0)
			d[p] = dr*(1+through*r*r) + 2*tr*r*n*dt
			r = r0 + tr*tr*r*n
		}
		out[i] = l.Surface.Outside(r)
		n := 1 / (1 - l.Surface.K2*r)
		face := (1 - l.Surface.K1) * (1 - l.Surface.K2) * n * n
		for j := range d {
			by[j][i] = face * d[j]
		}
		if l.Optics == Angular {
			more, slope, _ := l.Surface.Slanting(l.absorbed(i, t), l.Ground[i])
			out[i] += more
			for j := range d {
				by[j][i] += slope * l.K[j][i]
			}
		}
	}
	return out, by
}

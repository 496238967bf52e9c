package screen

import (
	"math"

	"threeply/proof/linear"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Spread is Yule and Nielsen's n, the optical spread of light between dots and the
// paper among them: 1 where light leaves where it went in, 2 where it is spread over many
// dots (J. A. C. Yule and W. J. Nielsen, TAGA Proc. 1951, 65, from memory). Dots of 20
// to 60 µm are finer than light spreads in paper.
const Spread = 2.0

// Dots is a print of dots: each layer stands at its full height or not at all, dots of
// the three fall independently, and light is averaged over them,
//
//	R^(1/n) = Σ w_k R_k^(1/n)
//
// over the paper, the layers and what they make lying over each other, weighed by the
// areas that chance gives (M. E. Demichel 1924, H. E. J. Neugebauer 1937, J. A. S. Viggiano
// 1985; from memory).
type Dots struct{ roots [8]spectrum.Curve }

// NewDots makes the dots of a recipe ready. full are the relative thicknesses of whole
// dots, by printer.
func NewDots(l *stack.Layers, full [3]float64) *Dots {
	var d Dots
	for k := range d.roots {
		var t [3]float64
		for i := range t {
			if k>>i&1 == 1 {
				t[i] = full[i]
			}
		}
		for i, r := range l.Reflectance(t) {
			d.roots[k][i] = math.Pow(max(r, 0), 1/Spread)
		}
	}
	return &d
}

// Reflectance is that of areas, 0 to 1, by printer.
func (d *Dots) Reflectance(area [3]float64) spectrum.Curve {
	var weights [8]float64
	for k := range weights {
		weights[k] = 1
		for i, a := range area {
			if k>>i&1 == 1 {
				weights[k] *= a
			} else {
				weights[k] *= 1 - a
			}
		}
	}
	var out spectrum.Curve
	for i := range out {
		sum := 0.0
		for k, w := range weights {
			sum += w * d.roots[k][i]
		}
		out[i] = math.Pow(sum, Spread)
	}
	return out
}

// scaleSteps is how finely a Scale is worked out.
const scaleSteps = 64

// Scale are the areas that print the neutrals of a scene, from paper to depth.
type Scale [scaleSteps + 1][3]float64

// Scale finds the areas whose colours are those wanted, in a light, at each tone from 0,
// paper, to 1, where all dots are whole. Between them areas never fall.
func (d *Dots) Scale(light spectrum.Light, wanted func(tone01 float64) spectrum.Lab) *Scale {
	var s Scale
	for i := 1; i <= scaleSteps; i++ {
		if i == scaleSteps {
			s[i] = [3]float64{1, 1, 1}
			break
		}
		s[i] = d.fit(light, wanted(float64(i)/scaleSteps), s[i-1])
	}
	return &s
}

// fit finds areas for a colour, from those of the tone before on, by Newton's steps held
// to 0 … 1.
func (d *Dots) fit(light spectrum.Light, aim spectrum.Lab, least [3]float64) [3]float64 {
	lab := func(a [3]float64) spectrum.Lab { return light.Lab(d.Reflectance(a)) }
	area := least
	for range 30 {
		at := lab(area)
		var off [3]float64
		size := 0.0
		for i := range off {
			off[i] = aim[i] - at[i]
			size += off[i] * off[i]
		}
		if size < 1e-8 {
			break
		}
		const h = 1e-4
		var slopes [9]float64
		for k := range area {
			moved, sign := area, 1.0
			if moved[k]+h > 1 {
				sign = -1
			}
			moved[k] += sign * h
			to := lab(moved)
			for i := range off {
				slopes[3*i+k] = sign * (to[i] - at[i]) / h
			}
		}
		if !linear.Solve(slopes[:], off[:], 1e-9) {
			break
		}
		for k := range area {
			area[k] = min(max(area[k]+min(max(off[k], -0.2), 0.2), least[k]), 1)
		}
	}
	return area
}

// Area is that of a layer at a tone, 0 paper to 1 depth.
func (s *Scale) Area(p pigment.Printer, tone01 float64) float64 {
	x := min(max(tone01, 0), 1) * scaleSteps
	i := min(int(x), scaleSteps-1)
	f := x - float64(i)
	return s[i][p]*(1-f) + s[i+1][p]*f
}

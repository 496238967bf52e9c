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

// Dots is a print of dots in a light: each layer stands at its full height or not at all,
// dots of the three fall independently, and light is averaged over them,
//
//	R^(1/n) = Σ w_k R_k^(1/n),  n = Spread
//
// over the paper, the layers and what they make lying over each other, weighed by the
// areas that chance gives (M. E. Demichel 1924, H. E. J. Neugebauer 1937, J. A. S. Viggiano
// 1985; from memory).
//
// As n is 2, R is a sum over pairs of these eight, w_k w_l √(R_k R_l), and so is its colour:
// no spectrum is gone through for an area.
type Dots struct {
	pairs [8][8]spectrum.XYZ // of √(R_k R_l), twice where k < l, 0 where k > l
	white spectrum.XYZ
}

// NewDots makes the dots of a recipe ready for a light. full are the relative thicknesses
// of whole dots, by printer.
func NewDots(l *stack.Layers, light spectrum.Light, full [3]float64) *Dots {
	d := &Dots{white: light.White}
	var solids [8]spectrum.Curve
	for k := range solids {
		var t [3]float64
		for i := range t {
			if k>>i&1 == 1 {
				t[i] = full[i]
			}
		}
		solids[k] = l.Reflectance(t)
	}
	for k := range solids {
		for m := k; m < len(solids); m++ {
			var both spectrum.Curve
			for i := range both {
				both[i] = math.Sqrt(max(solids[k][i]*solids[m][i], 0))
				if m > k {
					both[i] *= 2
				}
			}
			d.pairs[k][m] = light.XYZ(both)
		}
	}
	return d
}

// Lab is the colour of areas, 0 to 1, by printer, against white in the same light.
func (d *Dots) Lab(area [3]float64) spectrum.Lab {
	y, m, c := area[0], area[1], area[2]
	weights := [8]float64{
		(1 - y) * (1 - m) * (1 - c), y * (1 - m) * (1 - c), (1 - y) * m * (1 - c), y * m * (1 - c),
		(1 - y) * (1 - m) * c, y * (1 - m) * c, (1 - y) * m * c, y * m * c,
	}
	var x spectrum.XYZ
	for k, w := range weights {
		for m := k; m < len(weights); m++ {
			both, pair := w*weights[m], &d.pairs[k][m]
			x[0] += both * pair[0]
			x[1] += both * pair[1]
			x[2] += both * pair[2]
		}
	}
	return x.Lab(d.white)
}

// scaleSteps is how finely a Scale is worked out.
const scaleSteps = 64

// Scale are the areas that print the neutrals of a scene, from paper to depth.
type Scale [scaleSteps + 1][3]float64

// Scale finds the areas whose colours are those wanted at each tone from 0,
// paper, to 1, where all dots are whole. Between them areas never fall.
func (d *Dots) Scale(wanted func(tone01 float64) spectrum.Lab) *Scale {
	var s Scale
	for i := 1; i <= scaleSteps; i++ {
		if i == scaleSteps {
			s[i] = [3]float64{1, 1, 1}
			break
		}
		s[i] = d.fit(wanted(float64(i)/scaleSteps), s[i-1])
	}
	return &s
}

// fit finds areas for a colour, from those of the tone before on, by Newton's steps held
// to 0 … 1.
func (d *Dots) fit(aim spectrum.Lab, least [3]float64) [3]float64 {
	area := least
	for range 30 {
		at := d.Lab(area)
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
			to := d.Lab(moved)
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

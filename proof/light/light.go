package light

import (
	"math"
)

// Picture is a scene as three plates hold it, W × H points row by row.
type Picture struct {
	W, H     int
	Exposure [3][]float64 // linear, each plate in a unit of its own, 0 or more
	Use      []bool       // false outside the picture and where a plate is clipped or blank
}

// Light is the exposure of a neutral in the three plates, the green plate's
// at 1.
type Light [3]float64

// Stops is by how many doublings the light is stronger in a plate than in the
// green one.
func (l Light) Stops() [3]float64 {
	var s [3]float64
	for i := range s {
		s[i] = math.Log2(l[i] / l[1])
	}
	return s
}

// Assumption is one of the family
//
//	( mean |∂ⁿ f_σ|ᵖ )^(1/p) = k·e
//
// with f_σ the exposures under a Gaussian of standard deviation σ, n the order
// of the derivative, p the Minkowski norm and e the light (J. van de Weijer, T.
// Gevers, A. Gijsenij, Edge-Based Color Constancy, IEEE Trans. Image Process. 16,
// 2007, 2207, eq. 15). It holds where the scene, or its edges, are grey on the
// whole, and is misled by a scene of one colour.
type Assumption struct {
	ID    string
	Name  string
	Says  string  // what it supposes, a clause
	Order int     // n, 0 to 2
	Norm  float64 // p, 1 or more; +Inf for the largest
	Sigma float64 // σ in points of a picture whose longer side is Side
}

// Side is the longer side, in points, of the picture that the assumptions are
// meant for; σ goes along with the side.
const Side = 320

// Assumptions returns those that can be chosen.
func Assumptions() []Assumption {
	return []Assumption{
		{"white-patch", "white patch", "the brightest place is white", 0, math.Inf(1), 1},
		{"grey-world", "grey world", "the scene is grey on the average", 0, 1, 0},
		{"grey-edge", "grey edge", "the strong edges are grey on the whole", 1, 6, 1},
	}
}

// AssumptionByID returns the assumption of an id.
func AssumptionByID(id string) (Assumption, bool) {
	for _, a := range Assumptions() {
		if a.ID == id {
			return a, true
		}
	}
	return Assumption{}, false
}

// leastPoints is how many points an estimate needs.
const leastPoints = 64

// Estimate returns the light; ok is false where too little of the picture can
// be used, or a plate shows nothing.
func (a Assumption) Estimate(p *Picture) (l Light, ok bool) {
	sigma := a.Sigma * float64(max(p.W, p.H)) / Side
	for i := range l {
		f := smoothed(p, i, sigma)
		l[i], ok = minkowski(p, f, a.Order, a.Norm)
		if !ok {
			return Light{}, false
		}
	}
	return Light{l[0] / l[1], 1, l[2] / l[1]}, true
}

// minkowski is the norm of the derivatives of f over the points whose
// neighbours can all be used.
func minkowski(p *Picture, f []float64, order int, norm float64) (float64, bool) {
	sum, most, n := 0.0, 0.0, 0
	reach := min(order, 1)
	for y := reach; y < p.H-reach; y++ {
		for x := reach; x < p.W-reach; x++ {
			if !usable(p, x, y, reach) {
				continue
			}
			v := derivative(f, p.W, y*p.W+x, order)
			n++
			most = max(most, v)
			if !math.IsInf(norm, 1) {
				sum += math.Pow(v, norm)
			}
		}
	}
	if n < leastPoints || !(most > 0) {
		return 0, false
	}
	if math.IsInf(norm, 1) {
		return most, true
	}
	return math.Pow(sum/float64(n), 1/norm), true
}

func usable(p *Picture, x, y, reach int) bool {
	for j := -reach; j <= reach; j++ {
		for i := -reach; i <= reach; i++ {
			if !p.Use[(y+j)*p.W+x+i] {
				return false
			}
		}
	}
	return true
}

// derivative is the size of the derivative of f at point i: the value itself,
// the gradient by central differences, or the second derivatives together.
func derivative(f []float64, w, i, order int) float64 {
	switch order {
	case 0:
		return math.Abs(f[i])
	case 1:
		return math.Hypot((f[i+1]-f[i-1])/2, (f[i+w]-f[i-w])/2)
	}
	xx := f[i+1] - 2*f[i] + f[i-1]
	yy := f[i+w] - 2*f[i] + f[i-w]
	xy := (f[i+w+1] - f[i+w-1] - f[i-w+1] + f[i-w-1]) / 4
	return math.Sqrt(xx*xx + 4*xy*xy + yy*yy)
}

// smoothed is plate i under a Gaussian, over the points that can be used.
func smoothed(p *Picture, i int, sigma float64) []float64 {
	value, weight := make([]float64, len(p.Use)), make([]float64, len(p.Use))
	for j, use := range p.Use {
		if use {
			value[j], weight[j] = p.Exposure[i][j], 1
		}
	}
	if sigma > 0.1 {
		k := gaussian(sigma)
		value, weight = blur(value, p.W, p.H, k), blur(weight, p.W, p.H, k)
	}
	for j, w := range weight {
		if w > 0 {
			value[j] /= w
		}
	}
	return value
}

func gaussian(sigma float64) []float64 {
	r := int(math.Ceil(3 * sigma))
	k := make([]float64, 2*r+1)
	for i := range k {
		d := float64(i-r) / sigma
		k[i] = math.Exp(-d * d / 2)
	}
	return k
}

// blur convolves across and down; what lies outside is 0.
func blur(src []float64, w, h int, kernel []float64) []float64 {
	r := len(kernel) / 2
	pass := func(src []float64, n, lines, step, next int) []float64 {
		dst := make([]float64, len(src))
		for l := range lines {
			for i := range n {
				sum := 0.0
				for j := max(i-r, 0); j <= min(i+r, n-1); j++ {
					sum += kernel[j-i+r] * src[l*next+j*step]
				}
				dst[l*next+i*step] = sum
			}
		}
		return dst
	}
	return pass(pass(src, w, h, 1, w), h, w, w, 1)
}

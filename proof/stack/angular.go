package stack

import (
	"math"
	"sync"
)

// Optics is how the light is taken to cross the layers.
type Optics int

const (
	// TwoFlux takes all of it as diffuse: Kubelka–Munk films under Saunderson's face.
	TwoFlux Optics = iota

	// Angular follows what no layer scatters on its slanting ways, in at 45°, out at 0°,
	// and back from the face from inside: see Slanting.
	Angular
)

// Slanting is by how much a print at 45°/0° is lighter than two-flux films make it, for
// light that crosses clear layers on straight ways: absorbed is the sum of K times the
// thickness of all layers, inner the inner reflectance of the paper. byAbsorbed and
// byInner are its slopes.
//
//	q ρ e^(-A (1 + 1/cos)) / (1 - K2 ρ b(A)/b(0))  -  q ρ e^(-2A) / (1 - K2 ρ e^(-2A))
//
// with q = (1-K1)(1-K2) and b(A) = ∫ 2 sinθ cosθ r(θ) e^(-2A/cosθ) dθ, r the face from
// inside (F. C. Williams and F. R. Clapper, JOSA 43, 1953, 595; for several clear layers,
// whose absorptions sum up, L. Simonot, M. Hébert, R. D. Hersch, JOSA A 23, 2006, 1432).
// The face itself stays Saunderson's, so that without pigment the difference is none.
// What the layers scatter is left to Kubelka and Munk.
func (s Surface) Slanting(absorbed, inner float64) (more, byAbsorbed, byInner float64) {
	q := (1 - s.K1) * (1 - s.K2)
	t, clear := math.Exp(-waysOut*absorbed), math.Exp(-2*absorbed)
	b, bySlope := back(absorbed)
	n, m := 1/(1-s.K2*inner*b), 1/(1-s.K2*inner*clear)
	more = q * inner * (t*n - clear*m)
	byAbsorbed = q * inner * (t*n*(-waysOut+s.K2*inner*bySlope*n) + 2*clear*m*(1+s.K2*inner*clear*m))
	byInner = q * (t*n*n - clear*m*m)
	return more, byAbsorbed, byInner
}

// gelatine is the refractive index of dry gelatine.
const gelatine = 1.53

// waysOut is the length of the ways in and out against the thickness.
var waysOut = 1 + 1/math.Sqrt(1-0.5/(gelatine*gelatine))

// The table of b(A)/b(0) and its slope, by steps of A up to where nothing comes back.
const (
	backStep = 0.02
	backMost = 8.0
)

var backTable = sync.OnceValue(func() [][2]float64 {
	var out [][2]float64
	for i := range int(backMost/backStep) + 1 {
		a := backStep * float64(i)
		b := hemisphere(func(cos float64) float64 { return fresnel(gelatine, 1, cos) * math.Exp(-2*a/cos) })
		slope := hemisphere(func(cos float64) float64 { return -2 / cos * fresnel(gelatine, 1, cos) * math.Exp(-2*a/cos) })
		out = append(out, [2]float64{b, slope})
	}
	whole := out[0][0]
	for i := range out {
		out[i][0], out[i][1] = out[i][0]/whole, out[i][1]/whole
	}
	return out
})

// back is b(A)/b(0) and its slope, between two steps by the cubic that has their values
// and slopes.
func back(a float64) (b, slope float64) {
	table := backTable()
	u := max(a, 0) / backStep
	i := int(u)
	if i >= len(table)-1 {
		return 0, 0
	}
	u -= float64(i)
	d := table[i+1][0] - table[i][0]
	m0, m1 := table[i][1]*backStep, table[i+1][1]*backStep
	c2, c3 := 3*d-2*m0-m1, m0+m1-2*d
	return table[i][0] + u*(m0+u*(c2+u*c3)), (m0 + u*(2*c2+3*u*c3)) / backStep
}

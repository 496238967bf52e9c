package fit

import (
	"math"
	"sort"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// model is what is fitted, and the palette that it begins from.
type model struct {
	at      []int // the samples of a spectrum.Curve that are fitted, rising
	order   stack.Order
	surface stack.Surface
	optics  stack.Optics
	palette pigment.Palette
	reach   [3]float64           // log exposure from threshold to base, as first taken
	k, s    [3][]float64         // as first taken, per unit thickness, at the samples
	tilt    []float64            // ln(λ/tiltAt) of the samples; see params
	ground  map[string][]float64 // reflectance as measured of the bare patches, at the samples
	knots   [3][]float64         // log exposures at which amounts are fitted, rising
}

// params are the unknowns.
//
// As a vector they stand so: log K of yellow, magenta, cyan at each sample; then, layer
// by layer, the amount at the first knot and by how much each further knot is above the
// one before; then the three logarithms of the scattering at tiltAt against what it was
// taken to be; then by which powers of the wavelength it departs from that elsewhere; then
// the logarithm of the surface's K0.
type params struct {
	logK   [3][]float64
	amount [3][]float64
	logS   [3]float64
	tilted [3]float64
	logK0  float64
}

// tiltAt is the wavelength, in nm, at which a factor of the scattering counts.
const tiltAt = 550

// Where the parts of the vector begin.
func (m *model) iK(layer, sample int) int { return layer*len(m.at) + sample }

func (m *model) iT(layer, knot int) int {
	i := 3 * len(m.at)
	for l := range layer {
		i += len(m.knots[l])
	}
	return i + knot
}

func (m *model) iS(layer int) int    { return m.iT(3, 0) + layer }
func (m *model) iTilt(layer int) int { return m.iT(3, 0) + 3 + layer }
func (m *model) iK0() int            { return m.iT(3, 0) + 6 }
func (m *model) size() int           { return m.iK0() + 1 }

// begin is the vector of what was first taken.
func (m *model) begin() []float64 {
	x := make([]float64, m.size())
	for l := range 3 {
		for j, k := range m.k[l] {
			x[m.iK(l, j)] = math.Log(k)
		}
		before := 0.0
		for i, e := range m.knots[l] {
			t := min(max(1+e/m.reach[l], 0), 1)
			x[m.iT(l, i)] = t - before
			before = t
		}
	}
	x[m.iK0()] = math.Log(m.surface.K0)
	return x
}

// unpack takes the vector apart.
func (m *model) unpack(x []float64) *params {
	p := &params{logK0: x[m.iK0()]}
	for l := range 3 {
		p.logK[l] = x[m.iK(l, 0) : m.iK(l, 0)+len(m.at)]
		p.amount[l] = make([]float64, len(m.knots[l]))
		sum := 0.0
		for i := range p.amount[l] {
			sum += x[m.iT(l, i)]
			p.amount[l][i] = sum
		}
		p.logS[l], p.tilted[l] = x[m.iS(l)], x[m.iTilt(l)]
	}
	return p
}

// weight is the share that a knot has in the amount at an exposure.
type weight struct {
	knot int
	w    float64
}

// between are the weights of the two knots about an exposure, on a straight line; beyond
// the ends, those of the end.
func (m *model) between(layer int, logE float64) [2]weight {
	k := m.knots[layer]
	i := sort.SearchFloat64s(k, logE)
	switch {
	case i == len(k):
		return [2]weight{{len(k) - 1, 1}, {len(k) - 1, 0}}
	case i == 0 || k[i] == logE:
		return [2]weight{{i, 1}, {i, 0}}
	}
	u := (logE - k[i-1]) / (k[i] - k[i-1])
	return [2]weight{{i - 1, 1 - u}, {i, u}}
}

// amounts are those of a patch, by printer, before what its own coat differs by.
func (m *model) amounts(p *params, patch testsheet.Patch) (t [3]float64) {
	for l := range t {
		if !patch.Has[l] {
			continue
		}
		for _, w := range m.between(l, patch.LogE[l]) {
			t[l] += w.w * p.amount[l][w.knot]
		}
	}
	return t
}

// look is a patch's reflectance at the samples and its slopes: by log K of each layer at
// the same sample, by the amounts, by log S, by log K0.
type look struct {
	r, byK0       []float64
	byK, byT, byS [3][]float64
}

func newLook(n int) *look {
	l := &look{r: make([]float64, n), byK0: make([]float64, n)}
	for i := range 3 {
		l.byK[i], l.byT[i], l.byS[i] = make([]float64, n), make([]float64, n), make([]float64, n)
	}
	return l
}

// see works a patch out.
func (m *model) see(p *params, ground string, t [3]float64, out *look) {
	face := m.surface
	face.K0 = math.Exp(p.logK0)
	for j := range m.at {
		var scatter [3]float64
		for l := range scatter {
			scatter[l] = math.Exp(p.logS[l] + p.tilted[l]*m.tilt[j])
		}
		paper := m.ground[ground][j]
		r := face.Inside(paper)
		inner := r
		// Slopes of r by what lies below, as the layers are laid on it.
		byGround, absorbed := 1.0, 0.0
		var byK, byT, byS [3]float64
		for _, l := range m.order {
			x := t[l]
			if x == 0 {
				// A layer that is about to begin: its slope by the amount alone.
				k, s := math.Exp(p.logK[l][j]), m.s[l][j]*scatter[l]
				byT[l] = s - 2*(k+s)*r + s*r*r
				continue
			}
			k, s := math.Exp(p.logK[l][j]), m.s[l][j]*scatter[l]
			f := slopes(k, s, x)
			n := 1 / (1 - f.r*r)
			through := f.t * f.t * n * n
			byR, byTr := 1+through*r*r, 2*f.t*r*n
			for i := range byK {
				byK[i], byT[i], byS[i] = byK[i]*through, byT[i]*through, byS[i]*through
			}
			byGround *= through
			byK[l] = byR*f.rByLogK + byTr*f.tByLogK
			byS[l] = byR*f.rByLogS + byTr*f.tByLogS
			byT[l] = byR*f.rByX + byTr*f.tByX
			r = f.r + f.t*f.t*r*n
			absorbed += k * x
		}
		n := 1 / (1 - face.K2*r)
		q := (1 - face.K1) * (1 - face.K2)
		out.r[j] = face.Outside(r)
		slope := q * n * n
		for l := range byK {
			out.byK[l][j], out.byT[l][j], out.byS[l][j] = slope*byK[l], slope*byT[l], slope*byS[l]
		}
		// The paper as measured holds K0 too: a lighter face is a darker ground.
		ng := 1 - face.K2*inner
		byK0 := 1 - slope*byGround*ng*ng/q
		if m.optics == stack.Angular {
			more, byAbsorbed, byInner := face.Slanting(absorbed, inner)
			out.r[j] += more
			for l := range byK {
				k := math.Exp(p.logK[l][j])
				out.byK[l][j] += byAbsorbed * k * t[l]
				out.byT[l][j] += byAbsorbed * k
			}
			byK0 -= byInner * ng * ng / q
		}
		out.byK0[j] = byK0 * face.K0
	}
}

// film is one film and its slopes.
type film struct {
	r, t             float64
	rByX, tByX       float64
	rByLogK, tByLogK float64
	rByLogS, tByLogS float64
}

// slopes works a film out. A film depends on k·x and s·x alone, so that its slopes by
// the logarithms of k and of s sum to that by the logarithm of x, which the equations of
// Kubelka and Munk give (see stack.Layers.Slopes); that by log k is a quotient of small
// differences.
func slopes(k, s, x float64) film {
	var f film
	f.r, f.t = stack.Film(k, s, x)
	const h = 1e-5
	r, t := stack.Film(k*(1+h), s, x)
	f.rByLogK, f.tByLogK = (r-f.r)/h, (t-f.t)/h
	f.rByX, f.tByX = s*f.t*f.t, -f.t*(k+s-s*f.r)
	f.rByLogS, f.tByLogS = f.rByX*x-f.rByLogK, f.tByX*x-f.tByLogK
	return f
}

// tilt is ln(λ/tiltAt) of a sample of a curve.
func tilt(sample int) float64 { return math.Log(spectrum.Wavelength(sample) / tiltAt) }

// sample takes the fitted samples of a curve.
func (m *model) sample(c spectrum.Curve) []float64 {
	out := make([]float64, len(m.at))
	for j, i := range m.at {
		out[j] = c[i]
	}
	return out
}

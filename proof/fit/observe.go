package fit

import (
	"math"

	"threeply/proof/spectrum"
	"threeply/proof/testsheet"
)

// observation is what was read of a patch, as a function of its reflectance at the
// samples of the model.
type observation struct {
	patch testsheet.Patch
	want  []float64
	sigma []float64 // standard deviation that each value is taken to have
	kind  *kind     // nil: want is the reflectance itself
}

// kind is a way of measuring that gives three values of a spectrum.
type kind struct {
	weights [3][]float64 // at the samples
	after   func(sums [3]float64) (values [3]float64, slopes [3][3]float64)
}

// What an instrument's readings are taken to differ by.
const (
	sigmaFloor   = 0.0015 // of a reflectance, and
	sigmaShare   = 0.004  // of it
	sigmaDensity = 0.01
	sigmaLab     = 0.3
)

func spectral(patch testsheet.Patch, want []float64) observation {
	o := observation{patch: patch, want: want, sigma: make([]float64, len(want))}
	o.spread(sigmaFloor)
	return o
}

// spread is by how much readings of a reflectance are taken to differ, where those of black do by floor.
func (o *observation) spread(floor float64) {
	for j, r := range o.want {
		o.sigma[j] = math.Hypot(floor, sigmaShare*r)
	}
}

func triple(patch testsheet.Patch, want [3]float64, sigma float64, k *kind) observation {
	return observation{patch: patch, want: want[:], sigma: []float64{sigma, sigma, sigma}, kind: k}
}

// densities is the kind of a densitometer of a status.
func densities(s spectrum.Status, at []int) *kind {
	k := &kind{}
	var whole [3]float64
	for ch, w := range s.Weights() {
		k.weights[ch] = folded(w, at)
		for _, v := range k.weights[ch] {
			whole[ch] += v
		}
	}
	k.after = func(sums [3]float64) (d [3]float64, slopes [3][3]float64) {
		for ch, v := range sums {
			v = max(v, whole[ch]*1e-6)
			d[ch] = math.Log10(whole[ch] / v)
			slopes[ch][ch] = -1 / (v * math.Ln10)
		}
		return d, slopes
	}
	return k
}

// colours is the kind of an instrument that gives CIELAB under a light.
func colours(light spectrum.Light, at []int) *kind {
	k := &kind{}
	for ch, w := range light.Weights() {
		k.weights[ch] = folded(w, at)
	}
	k.after = func(sums [3]float64) (lab [3]float64, slopes [3][3]float64) {
		const h = 1e-4
		lab = spectrum.XYZ(sums).Lab(light.White)
		for ch := range sums {
			moved := spectrum.XYZ(sums)
			moved[ch] += h
			for i, v := range moved.Lab(light.White) {
				slopes[i][ch] = (v - lab[i]) / h
			}
		}
		return lab, slopes
	}
	return k
}

// folded brings the weights of every sample of a curve to the samples at, which are
// evenly spaced: a sample that is left out weighs on its two neighbours, and what lies
// beyond the ends on the ends.
func folded(w spectrum.Curve, at []int) []float64 {
	out := make([]float64, len(at))
	for i, v := range w {
		switch j := after(at, i); {
		case j == 0:
			out[0] += v
		case j == len(at):
			out[j-1] += v
		default:
			u := float64(i-at[j-1]) / float64(at[j]-at[j-1])
			out[j-1] += v * (1 - u)
			out[j] += v * u
		}
	}
	return out
}

// after is the first of at that is i or more.
func after(at []int, i int) int {
	for j, a := range at {
		if a >= i {
			return j
		}
	}
	return len(at)
}

// row is the slopes of one residual, where they are not zero.
type row struct {
	col []int
	val []float64
}

func (r *row) reset()                     { r.col, r.val = r.col[:0], r.val[:0] }
func (r *row) put(col int, value float64) { r.col, r.val = append(r.col, col), append(r.val, value) }

// rows calls each with every residual of a patch, (read - worked out)/σ, the slopes of
// what was worked out by the amounts at the knots and by all else, and the slopes by
// what the coat of each layer differs by, as a share.
func (m *model) rows(p *params, o *observation, own [3]float64, l *look, each func(residual float64, slopes *row, byOwn [3]float64)) {
	t := m.amounts(p, o.patch)
	whole := t
	for i := range t {
		t[i] *= 1 + own[i]
	}
	m.see(p, o.patch.Ground, t, l)
	var r row
	if o.kind == nil {
		for j := range m.at {
			r.reset()
			var byOwn [3]float64
			s := 1 / o.sigma[j]
			for i, has := range o.patch.Has {
				if !has {
					continue
				}
				r.put(m.iK(i, j), s*l.byK[i][j])
				for _, w := range m.between(i, o.patch.LogE[i]) {
					if w.w != 0 {
						r.put(m.iT(i, w.knot), s*l.byT[i][j]*w.w*(1+own[i]))
					}
				}
				r.put(m.iS(i), s*l.byS[i][j])
				r.put(m.iTilt(i), s*l.byS[i][j]*m.tilt[j])
				byOwn[i] = s * l.byT[i][j] * whole[i]
			}
			r.put(m.iK0(), s*l.byK0[j])
			each((o.want[j]-l.r[j])*s, &r, byOwn)
		}
		return
	}
	sums := [3]float64{}
	for ch := range sums {
		for j, w := range o.kind.weights[ch] {
			sums[ch] += w * l.r[j]
		}
	}
	values, slopes := o.kind.after(sums)
	by := make([]float64, len(m.at)) // of one value, by the reflectance
	for v := range values {
		s := 1 / o.sigma[v]
		for j := range by {
			by[j] = 0
			for ch := range sums {
				by[j] += s * slopes[v][ch] * o.kind.weights[ch][j]
			}
		}
		r.reset()
		var byOwn [3]float64
		for i, has := range o.patch.Has {
			if !has {
				continue
			}
			byT, byS, byTilt := 0.0, 0.0, 0.0
			for j, g := range by {
				r.put(m.iK(i, j), g*l.byK[i][j])
				byT += g * l.byT[i][j]
				byS += g * l.byS[i][j]
				byTilt += g * l.byS[i][j] * m.tilt[j]
			}
			for _, w := range m.between(i, o.patch.LogE[i]) {
				if w.w != 0 {
					r.put(m.iT(i, w.knot), byT*w.w*(1+own[i]))
				}
			}
			r.put(m.iS(i), byS)
			r.put(m.iTilt(i), byTilt)
			byOwn[i] = byT * whole[i]
		}
		byK0 := 0.0
		for j, g := range by {
			byK0 += g * l.byK0[j]
		}
		r.put(m.iK0(), byK0)
		each((o.want[v]-values[v])*s, &r, byOwn)
	}
}

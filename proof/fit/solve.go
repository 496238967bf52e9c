package fit

import (
	"context"
	"math"
	"slices"

	"threeply/proof/linear"
)

// What is taken to be likely before anything is read (assumed): standard deviations.
type priors struct {
	level  float64 // of log K against what it was taken to be
	bend   float64 // of its second differences over 10 nm
	amount float64 // of an amount against the straight line of its exposure
	turn   float64 // of the change of slope from step to step, against the slope
	hold   float64 // of the amount that is left at once where a layer begins to hold in the wash
	logS   float64 // of log S: a factor three
	power  float64 // of the power of the wavelength by which S departs from what it was taken to be
	logK0  float64 // of the surface's K0: a factor two
}

// spectra tell the shape of K by themselves, three values a patch tell its level only.
var (
	ofSpectra = priors{level: 1.5, bend: 0.3, amount: 0.5, turn: 0.35, hold: 0.05, logS: math.Log(3), power: 1.5, logK0: math.Log(2)}
	ofTriples = priors{level: 0.5, bend: 0.1, amount: 0.5, turn: 0.35, hold: 0.05, logS: math.Log(3), power: 0.5, logK0: math.Log(2)}
)

// usualStep is the log exposure over which turn is meant.
const usualStep = 0.15

// fixedScale is how exactly the amount at the base exposure is 1, which sets the unit.
const fixedScale = 1e-3

// solver looks for the vector that fits best.
type solver struct {
	*model
	priors
	seen  []observation
	weigh []float64    // of each observation: 1, or 0 where it is left out
	own   [][3]float64 // what the coat of each patch differs by, as a share
	coat  float64      // standard deviation of these
	first [3]int       // of each layer, the first knot at which something held, once that is told; else 0
	noise float64      // standard deviation of the readings against their sigma
	floor float64      // of a reflectance, that of the dark
	x     []float64

	variance [][3]float64 // of own
	inverse  []float64    // covariance of x, once asked for
}

func newSolver(m *model, seen []observation, p priors) *solver {
	s := &solver{model: m, priors: p, seen: seen, coat: 0.02, noise: 1, floor: sigmaFloor, x: m.begin()}
	s.weigh = make([]float64, len(seen))
	for i := range s.weigh {
		s.weigh[i] = 1
	}
	s.own, s.variance = make([][3]float64, len(seen)), make([][3]float64, len(seen))
	return s
}

// equations works all of them out at x.
func (s *solver) equations(x []float64) *normal {
	p := s.unpack(x)
	q := newNormal(s.size())
	s.prior(p, q)
	l := newLook(len(s.at))
	for i := range s.seen {
		if s.weigh[i] == 0 {
			continue
		}
		s.variance[i] = q.patch(s.model, p, &s.seen[i], s.weigh[i]/s.noise, s.coat, &s.own[i], l)
	}
	q.stepped(s.model)
	return q
}

// settle brings what each coat differs by to what fits best at x, and returns half the
// sum of squares.
func (s *solver) settle(x []float64) float64 {
	p := s.unpack(x)
	q := newNormal(s.size())
	s.prior(p, q)
	cost := q.cost
	l := newLook(len(s.at))
	for i := range s.seen {
		w := 1 / s.noise // what is left out is settled too, and may be let in again
		for pass := 0; ; pass++ {
			var h [9]float64
			var g [3]float64
			squares := 0.0
			s.rows(p, &s.seen[i], s.own[i], l, func(residual float64, _ *row, byOwn [3]float64) {
				squares += residual * residual * w * w / 2
				for a, b := range byOwn {
					g[a] += b * residual * w * w
					for k, c := range byOwn {
						h[3*a+k] += b * c * w * w
					}
				}
			})
			for a, e := range s.own[i] {
				h[4*a] += 1 / (s.coat * s.coat)
				g[a] -= e / (s.coat * s.coat)
				squares += e * e / (s.coat * s.coat) / 2
			}
			if pass == 2 || !linear.Solve(h[:], g[:], 0) {
				cost += squares * s.weigh[i]
				break
			}
			for a := range g {
				s.own[i][a] = min(max(s.own[i][a]+g[a], -mostOwn), mostOwn)
			}
		}
	}
	return cost
}

// mostOwn bounds by how much one coat can differ from another, as a share.
const mostOwn = 0.5

// prior adds what is taken to be likely, in amounts at the knots.
func (s *solver) prior(p *params, q *normal) {
	var r row
	one := func(sigma, off float64, cols []int, vals []float64) {
		r.reset()
		for i, c := range cols {
			r.put(c, vals[i]/sigma)
		}
		q.add(-off/sigma, &r)
	}
	for l := range 3 {
		off := make([]float64, len(s.at))
		for j := range off {
			off[j] = p.logK[l][j] - math.Log(s.k[l][j])
			one(s.level, off[j], []int{s.iK(l, j)}, []float64{1})
		}
		wide := float64(s.at[1]-s.at[0]) / 2 // in 10 nm
		for j := 1; j+1 < len(off); j++ {
			one(s.bend*math.Pow(wide, 1.5), off[j-1]-2*off[j]+off[j+1], []int{s.iK(l, j-1), s.iK(l, j), s.iK(l, j+1)}, []float64{1, -2, 1})
		}
		t, e := p.amount[l], s.knots[l]
		for i := range t {
			line := min(max(1+e[i]/s.reach[l], 0), 1)
			one(s.amount, t[i]-line, []int{s.iT(l, i)}, []float64{1})
		}
		last := len(t) - 1
		one(fixedScale, t[last]-1, []int{s.iT(l, last)}, []float64{1})
		for i := 1; i < last; i++ {
			a, b := 1/(e[i]-e[i-1]), 1/(e[i+1]-e[i])
			wide := math.Sqrt((e[i+1] - e[i-1]) / 2 / usualStep)
			sigma := s.turn * wide / s.reach[l]
			if i <= s.first[l] { // thinner than what holds there is none, so the curve leaps
				sigma = math.Hypot(sigma, s.hold*math.Hypot(a, b))
			}
			one(sigma, (t[i+1]-t[i])*b-(t[i]-t[i-1])*a,
				[]int{s.iT(l, i-1), s.iT(l, i), s.iT(l, i+1)}, []float64{a, -a - b, b})
		}
		one(s.logS, p.logS[l], []int{s.iS(l)}, []float64{1})
		one(s.power, p.tilted[l], []int{s.iTilt(l)}, []float64{1})
	}
	one(s.logK0, p.logK0-math.Log(s.surface.K0), []int{s.iK0()}, []float64{1})
}

// run looks for the best x, by K. Levenberg and D. W. Marquardt (J. SIAM 11, 1963, 431),
// with amounts that neither fall nor are less than none. It ends early where ctx does.
func (s *solver) run(ctx context.Context, steps int) error {
	damp := 1e-3
	cost := s.settle(s.x)
	for range steps {
		if err := ctx.Err(); err != nil {
			return err
		}
		q := s.equations(s.x)
		fixed := s.fixed(q)
		better := false
		for !better && damp < 1e8 {
			delta, ok := q.step(damp, fixed)
			if !ok {
				damp = max(damp, 1e-3) * 10
				continue
			}
			next := s.moved(delta)
			kept := make([][3]float64, len(s.own))
			copy(kept, s.own)
			if c := s.settle(next); c < cost {
				better = cost-c > 1e-5*cost
				s.x, cost = next, c
				damp = max(damp/5, 1e-9)
				break
			}
			copy(s.own, kept)
			damp *= 8
		}
		if !better {
			return nil
		}
	}
	return nil
}

// fixed marks the differences between knots that are 0 and that a step would make negative.
func (s *solver) fixed(q *normal) []bool {
	out := make([]bool, s.size())
	for i := s.iT(0, 0); i < s.iT(3, 0); i++ {
		out[i] = s.x[i] <= 0 && q.g[i] < 0
	}
	return out
}

// moved is x after a step: no difference between knots below 0, and no logarithm moved by more
// than mostMove.
func (s *solver) moved(delta []float64) []float64 {
	const mostMove = 1.0
	out := make([]float64, len(delta))
	for i := range out {
		if i >= s.iT(0, 0) && i < s.iT(3, 0) {
			out[i] = max(s.x[i]+delta[i], 0)
			continue
		}
		out[i] = s.x[i] + min(max(delta[i], -mostMove), mostMove)
	}
	return out
}

// spreads takes from the fit how much coats differ and how far readings scatter: each is
// the most likely given what is left (A. P. Dempster, N. M. Laird, D. B. Rubin, J. R.
// Stat. Soc. B 39, 1977, 1).
func (s *solver) spreads() {
	p := s.unpack(s.x)
	l := newLook(len(s.at))
	squares, n := 0.0, 0
	dark, nDark := 0.0, 0
	differ, layers := 0.0, 0
	for i := range s.seen {
		o := &s.seen[i]
		if s.weigh[i] == 0 || o.patch.Bare() {
			continue
		}
		sample := 0
		s.rows(p, o, s.own[i], l, func(residual float64, _ *row, _ [3]float64) {
			squares += residual * residual
			n++
			if o.kind == nil && o.want[sample] < isDark {
				dark += residual * residual
				nDark++
			}
			sample++
		})
		t := s.amounts(p, o.patch)
		for k, has := range o.patch.Has {
			if has && t[k] > leastTold {
				differ += s.own[i][k]*s.own[i][k] + s.variance[i][k]
				layers++
				n--
			}
		}
	}
	if n > 0 {
		s.noise = min(max(math.Sqrt(squares/float64(n)), leastNoise), mostNoise)
	}
	if nDark > 0 && n > 0 {
		s.floor = min(max(s.floor*math.Sqrt(dark/float64(nDark))/s.noise, sigmaFloor/4), 4*sigmaFloor)
		for i := range s.seen {
			if s.seen[i].kind == nil {
				s.seen[i].spread(s.floor)
			}
		}
	}
	if layers > 0 {
		s.coat = min(max(math.Sqrt(differ/float64(layers)), leastCoat), mostCoat)
	}
}

// begins finds the first knot of each layer at which something held in the wash.
func (s *solver) begins() {
	p := s.unpack(s.x)
	for l := range s.first {
		s.first[l] = max(slices.IndexFunc(p.amount[l], func(t float64) bool { return t > leastLeft }), 0)
	}
}

// The bounds of what spreads finds, the amount from which a coat tells of itself, and what is dark.
const (
	leastCoat, mostCoat   = 0.001, 0.15
	leastNoise, mostNoise = 0.2, 20
	leastTold             = 0.05
	isDark                = 0.1 // reflectance below which readings tell how far the dark ones scatter
)

// covariance is that of x at the end of the fit, row by row, by the curvature of the
// sum of squares there. Amounts that lie at their bound count as known.
func (s *solver) covariance() []float64 {
	if s.inverse != nil {
		return s.inverse
	}
	q := s.equations(s.x)
	n := q.n
	for i, f := range s.fixed(q) {
		if f {
			for j := range n {
				q.h[i*n+j], q.h[j*n+i] = 0, 0
			}
			q.h[i*n+i] = 1e12
		}
	}
	s.inverse = make([]float64, n*n)
	for i := range n {
		s.inverse[i*n+i] = 1
	}
	linear.Solve(q.h, s.inverse, 0)
	return s.inverse
}

package register

import (
	"math"
	"math/rand/v2"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/linear"
)

// consensus finds the affine map (x, y) → (x+dx, y+dy) that most patches agree
// on to within tol, by random samples of three (M. A. Fischler, R. C. Bolles,
// Comm. ACM 24 (1981) 381), and then by least squares, weighted with each
// patch's covariance and Tukey's biweight. stiff is how far the linear part
// may be from the identity. ok is false when fewer than three agree.
func consensus(patches []measured, tol, stiff float64) (m affine.Matrix, ok bool) {
	var live []measured
	for _, p := range patches {
		if p.settled {
			live = append(live, p)
		}
	}
	if len(live) < 3 {
		return affine.Identity, false
	}
	best, votes := affine.Identity, 0.0
	try := func(m affine.Matrix) {
		if !near(m, stiff) {
			return
		}
		var sum float64
		for _, p := range live {
			e := miss(m, p) / tol
			sum += max(0, 1-e*e) * p.score
		}
		if sum > votes {
			best, votes = m, sum
		}
	}
	for _, p := range live {
		try(affine.Translate(p.dx, p.dy))
	}
	rnd := rand.New(rand.NewPCG(3, 1861)) // any seed: the same plates give the same map
	three := make([]measured, 3)
	for range samples {
		for i := range three {
			three[i] = live[rnd.IntN(len(live))]
			three[i].precision = linear.Symmetric{XX: 1, YY: 1}
		}
		if m, ok := solve(three, nil); ok {
			try(m)
		}
	}
	if votes == 0 {
		return affine.Identity, false
	}
	limit := 2 * tol
	weights := make([]float64, len(live))
	for range rounds {
		var close []float64
		for i, p := range live {
			e := miss(best, p)
			if e < 2*tol {
				close = append(close, e)
			}
			u := e / limit
			w := max(0, 1-u*u)
			weights[i] = w * w
		}
		next, ok := solve(live, weights)
		if !ok || !near(next, stiff) {
			break
		}
		best = next
		slices.Sort(close)
		limit = min(max(biweight*close[len(close)/2], narrowest), limit)
	}
	return best, true
}

const (
	samples   = 300 // of three: one in twenty holds only patches that agree where 37 % of them do
	rounds    = 8   // of the weighted fit; the last ones change nothing in the tests
	narrowest = 0.2 // pixels that the biweight reaches at least, for patches as good as exact
)

// biweight is how many medians of the distances Tukey's biweight reaches: Rayleigh's
// median is 1.18 σ, and 4.7 σ is nearly as good as plain least squares on clean data.
const biweight = 4.7 / 1.18

// near says whether the linear part is within stiff of the identity.
func near(m affine.Matrix, stiff float64) bool {
	return math.Abs(m[0]-1) <= stiff && math.Abs(m[1]) <= stiff && math.Abs(m[3]) <= stiff && math.Abs(m[4]-1) <= stiff
}

// miss is the distance between where m and where the patch itself says that
// the patch lies.
func miss(m affine.Matrix, p measured) float64 {
	x, y := m.Apply(p.x, p.y)
	return math.Hypot(x-p.x-p.dx, y-p.y-p.dy)
}

// onALine is the share of the largest value of the normal equations' diagonal, in
// places scaled to a spread of 1, below which a pivot means that all patches lie on
// a line: those across it then spread by less than a hundredth of those along.
const onALine = 1e-4

// solve is the least-squares affine map through the patches, each weighted by
// its precision and, where weights is not nil, its weight. ok is false where they
// lie on a line or weigh nothing.
func solve(patches []measured, weights []float64) (m affine.Matrix, ok bool) {
	var n, cx, cy, size float64
	of := func(i int) float64 {
		if weights == nil {
			return 1
		}
		return weights[i]
	}
	for i, p := range patches {
		w := of(i)
		n += w
		cx += w * p.x
		cy += w * p.y
	}
	if n < 1e-9 {
		return affine.Identity, false
	}
	cx, cy = cx/n, cy/n
	for i, p := range patches {
		size += of(i) * ((p.x-cx)*(p.x-cx) + (p.y-cy)*(p.y-cy))
	}
	size = math.Sqrt(size/n) + 1e-9
	const unknowns = 6 // three of each of the two coordinates
	var a [unknowns * unknowns]float64
	var u [unknowns]float64
	for i, p := range patches {
		w := of(i)
		if w == 0 {
			continue
		}
		phi := [3]float64{(p.x - cx) / size, (p.y - cy) / size, 1}
		bx, by := p.precision.XX*p.dx+p.precision.XY*p.dy, p.precision.XY*p.dx+p.precision.YY*p.dy
		for r := range 3 {
			for c := range 3 {
				v := w * phi[r] * phi[c]
				a[r*unknowns+c] += v * p.precision.XX
				a[r*unknowns+c+3] += v * p.precision.XY
				a[(r+3)*unknowns+c] += v * p.precision.XY
				a[(r+3)*unknowns+c+3] += v * p.precision.YY
			}
			u[r] += w * phi[r] * bx
			u[r+3] += w * phi[r] * by
		}
	}
	if !linear.Solve(a[:], u[:], onALine) {
		return affine.Identity, false
	}
	m = affine.Matrix{1 + u[0]/size, u[1] / size, 0, u[3] / size, 1 + u[4]/size, 0}
	m[2] = u[2] - (u[0]*cx+u[1]*cy)/size
	m[5] = u[5] - (u[3]*cx+u[4]*cy)/size
	return m, true
}

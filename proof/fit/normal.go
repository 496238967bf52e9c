package fit

import "threeply/proof/linear"

// normal is the equations of one step, H δ = g, over the vector of params.
type normal struct {
	n    int
	h, g []float64 // h row by row
	cost float64   // half the sum of squares

	cross   [3][]float64 // of one patch: by the differences of its coats and the unknowns
	met     []bool       // unknowns that the patch touches
	touched []int        // and their numbers
}

func newNormal(n int) *normal {
	q := &normal{n: n, h: make([]float64, n*n), g: make([]float64, n), met: make([]bool, n)}
	for i := range q.cross {
		q.cross[i] = make([]float64, n)
	}
	return q
}

// add takes one residual with its slopes.
func (q *normal) add(residual float64, r *row) {
	for a, i := range r.col {
		q.g[i] += r.val[a] * residual
		for b, j := range r.col {
			q.h[i*q.n+j] += r.val[a] * r.val[b]
		}
	}
	q.cost += residual * residual / 2
}

// patch adds all residuals of one patch, whose noise is 1/weigh. own is what the patch's coats
// differ by, layer by layer, each with the standard deviation coat; patch returns the variance
// of each. They are unknowns of this patch alone, so they are eliminated here, by Schur's
// complement of their block, and do not enlarge the equations.
func (q *normal) patch(m *model, p *params, o *observation, weigh, coat float64, own *[3]float64, l *look) (variance [3]float64) {
	var hOwn [9]float64
	var gOwn [3]float64
	touched := q.touched[:0]
	m.rows(p, o, *own, l, func(residual float64, r *row, byOwn [3]float64) {
		for k := range r.val {
			r.val[k] *= weigh
		}
		residual *= weigh
		q.add(residual, r)
		for i, b := range byOwn {
			b *= weigh
			if b == 0 {
				continue
			}
			gOwn[i] += b * residual
			for k, c := range byOwn {
				hOwn[3*i+k] += b * c * weigh
			}
			for k, col := range r.col {
				q.cross[i][col] += b * r.val[k]
			}
		}
		for _, col := range r.col {
			if !q.met[col] {
				q.met[col] = true
				touched = append(touched, col)
			}
		}
	})
	q.touched = touched
	defer func() {
		for _, col := range touched {
			q.met[col] = false
			for i := range q.cross {
				q.cross[i][col] = 0
			}
		}
	}()
	for i := range own {
		hOwn[4*i] += 1 / (coat * coat)
		gOwn[i] -= own[i] / (coat * coat)
		q.cost += own[i] * own[i] / (coat * coat) / 2
	}
	// x holds H⁻¹ of the block, and H⁻¹ g.
	inverse := [12]float64{1, 0, 0, gOwn[0], 0, 1, 0, gOwn[1], 0, 0, 1, gOwn[2]}
	if !linear.Solve(hOwn[:], inverse[:], 0) {
		return variance
	}
	for i := range variance {
		variance[i] = inverse[4*i+i]
	}
	for _, a := range touched {
		var f [3]float64
		for i := range f {
			ca := q.cross[i][a]
			q.g[a] -= ca * inverse[4*i+3]
			for k := range f {
				f[k] += ca * inverse[4*i+k]
			}
		}
		row := q.h[a*q.n : (a+1)*q.n]
		for _, b := range touched {
			row[b] -= f[0]*q.cross[0][b] + f[1]*q.cross[1][b] + f[2]*q.cross[2][b]
		}
	}
	return variance
}

// stepped brings the equations from amounts at the knots to the differences between
// neighbours, of which each amount is a sum: what a difference moves is moved at all
// knots from it on.
func (q *normal) stepped(m *model) {
	for l := range 3 {
		first, last := m.iT(l, 0), m.iT(l, len(m.knots[l]))
		for i := last - 2; i >= first; i-- {
			q.g[i] += q.g[i+1]
			for j := range q.n {
				q.h[i*q.n+j] += q.h[(i+1)*q.n+j]
			}
		}
		for j := range q.n {
			for i := last - 2; i >= first; i-- {
				q.h[j*q.n+i] += q.h[j*q.n+i+1]
			}
		}
	}
}

// step solves the equations with the diagonal raised by damp of itself. Unknowns that
// are fixed stay. ok is false where they are as good as singular.
func (q *normal) step(damp float64, fixed []bool) (delta []float64, ok bool) {
	h := make([]float64, len(q.h))
	copy(h, q.h)
	delta = make([]float64, q.n)
	copy(delta, q.g)
	for i := range q.n {
		if fixed[i] {
			for j := range q.n {
				h[i*q.n+j], h[j*q.n+i] = 0, 0
			}
			h[i*q.n+i], delta[i] = 1, 0
			continue
		}
		h[i*q.n+i] *= 1 + damp
	}
	return delta, linear.Solve(h, delta, 0)
}

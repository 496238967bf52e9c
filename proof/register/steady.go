package register

import (
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/linear"
)

// How much one scan of a plate is, in truth, sheared against another, and stretched more
// one way than the other: standard deviations of half the shear and of half the
// difference of both stretches. Thirty sets of real separations had 0.0015 and 0.0016
// (their published maps); what is believed beyond it the places themselves must show.
const usualShear, usualUneven = 0.002, 0.002

// steadied is a map fitted to places with what is usual of plates held against it, and
// how sure it is.
type steadied struct {
	move       affine.Matrix // between pixels of the places' level
	covariance [36]float64   // of its six numbers, about (cx, cy), sides in units of size
	cx, cy     float64
	size       float64
	ok         bool
}

// steady fits the map (x, y) → (x+dx, y+dy) to places, weighted by their precision and
// Tukey's biweight, with a prior on what m would be sheared and stretched unevenly by it:
// where the places do not show that, as along one line of roofs, it is held to what is
// usual. Its covariance holds how far the places themselves lie off.
func steady(m affine.Matrix, places []measured, limit float64) steadied {
	var s steadied
	if len(places) < 3 {
		return s
	}
	n := float64(len(places))
	for _, f := range places {
		s.cx, s.cy = s.cx+f.x/n, s.cy+f.y/n
	}
	for _, f := range places {
		s.size += ((f.x-s.cx)*(f.x-s.cx) + (f.y-s.cy)*(f.y-s.cy)) / n
	}
	s.size = math.Sqrt(s.size) + 1e-9
	uneven, sheared := unevenness(m)
	s.move = affine.Identity
	reach := limit
	for range rounds {
		var a [36]float64
		var b [6]float64
		var left []float64
		var chi, weight float64
		for _, f := range places {
			e := miss(s.move, f)
			left = append(left, e)
			u := min(e/reach, 1)
			w := (1 - u*u) * (1 - u*u)
			if w == 0 {
				continue
			}
			x, y := s.move.Apply(f.x, f.y)
			chi += w * form(f.precision, x-f.x-f.dx, y-f.y-f.dy) / 2
			weight += w
			addPlace(&a, &b, f, w, (f.x-s.cx)/s.size, (f.y-s.cy)/s.size)
		}
		if weight < 1e-9 {
			return s
		}
		noise := max(chi/weight, 1) // places lie off by more than each of them knows
		for i := range a {
			a[i] /= noise
		}
		for i := range b {
			b[i] /= noise
		}
		// Unknowns: a11-1, a12, dx, a21, a22-1, dy, the linear ones times size.
		addPrior(&a, &b, [6]float64{0: 0.5, 4: -0.5}, -uneven*s.size, usualUneven*s.size)
		addPrior(&a, &b, [6]float64{1: 0.5, 3: 0.5}, -sheared*s.size, usualShear*s.size)
		for i := range 6 {
			for j := range 6 {
				s.covariance[i*6+j] = 0
			}
			s.covariance[i*7] = 1
		}
		left6 := a
		if !linear.Solve(left6[:], s.covariance[:], 1e-9) || !linear.Solve(a[:], b[:], 1e-9) {
			return s
		}
		u := b
		s.move = affine.Matrix{1 + u[0]/s.size, u[1] / s.size, 0, u[3] / s.size, 1 + u[4]/s.size, 0}
		s.move[2] = u[2] - (u[0]*s.cx+u[1]*s.cy)/s.size
		s.move[5] = u[5] - (u[3]*s.cx+u[4]*s.cy)/s.size
		slices.Sort(left)
		reach = min(max(biweight*left[len(left)/2], narrowest), limit)
	}
	s.ok = true
	return s
}

// form is d·P·d.
func form(p linear.Symmetric, dx, dy float64) float64 {
	return p.XX*dx*dx + 2*p.XY*dx*dy + p.YY*dy*dy
}

// addPlace adds a place at (u, v) to the normal equations.
func addPlace(a *[36]float64, b *[6]float64, f measured, w, u, v float64) {
	phi := [3]float64{u, v, 1}
	px, py := w*(f.precision.XX*f.dx+f.precision.XY*f.dy), w*(f.precision.XY*f.dx+f.precision.YY*f.dy)
	for r := range 3 {
		for c := range 3 {
			k := w * phi[r] * phi[c]
			a[r*6+c] += k * f.precision.XX
			a[r*6+c+3] += k * f.precision.XY
			a[(r+3)*6+c] += k * f.precision.XY
			a[(r+3)*6+c+3] += k * f.precision.YY
		}
		b[r] += phi[r] * px
		b[r+3] += phi[r] * py
	}
}

// addPrior adds that row·x is value, to within sigma.
func addPrior(a *[36]float64, b *[6]float64, row [6]float64, value, sigma float64) {
	w := 1 / (sigma * sigma)
	for i, p := range row {
		for j, q := range row {
			a[i*6+j] += w * p * q
		}
		b[i] += w * p * value
	}
}

// unevenness is half of what m stretches more across the key than down it, and half of
// its shear, both as shares and as seen in the key.
func unevenness(m affine.Matrix) (uneven, sheared float64) {
	// mᵀm is the square of the stretch that m begins with.
	xx, xy, yy := m[0]*m[0]+m[3]*m[3], m[0]*m[1]+m[3]*m[4], m[1]*m[1]+m[4]*m[4]
	all := xx + yy
	if all == 0 {
		return 0, 0
	}
	return (xx - yy) / (2 * all), xy / all
}

// errorAt is the standard error of the map at a place of the level, both ways together;
// endless where there was no fit.
func (s *steadied) errorAt(x, y float64) float64 {
	if !s.ok {
		return math.Inf(1)
	}
	phi := [3]float64{(x - s.cx) / s.size, (y - s.cy) / s.size, 1}
	var sum float64
	for r := range 3 {
		for c := range 3 {
			sum += phi[r] * phi[c] * (s.covariance[r*6+c] + s.covariance[(r+3)*6+c+3])
		}
	}
	return math.Sqrt(max(sum, 0))
}

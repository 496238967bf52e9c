package register

import (
	"math"
	"math/rand/v2"

	"threeply/proof/affine"
)

// consensus finds the affine map (x, y) → (x+dx, y+dy) that most patches agree
// on to within tol, by random samples of three (M. A. Fischler, R. C. Bolles,
// Comm. ACM 24 (1981) 381) and then by weighted least squares with Tukey's
// biweight. stiff is how far the linear part may be from the identity. ok is
// false when fewer than three agree.
func consensus(patches []found, tol, stiff float64) (m affine.Matrix, ok bool) {
	var live []found
	for _, p := range patches {
		if p.settled && p.score > 0 {
			live = append(live, p)
		}
	}
	if len(live) < 3 {
		return affine.Identity, false
	}
	rnd := rand.New(rand.NewPCG(3, 1861))
	best, bestVotes := affine.Identity, 0.0
	try := func(m affine.Matrix) {
		if !near(m, stiff) {
			return
		}
		var votes float64
		for _, p := range live {
			e := miss(m, p) / tol
			votes += max(0, 1-e*e) * p.score
		}
		if votes > bestVotes {
			best, bestVotes = m, votes
		}
	}
	for _, p := range live {
		try(affine.Translate(p.dx, p.dy))
	}
	three := make([]found, 3)
	for range 400 {
		for i := range three {
			three[i] = live[rnd.IntN(len(live))]
		}
		if m, ok := solve(three, func(found) float64 { return 1 }); ok {
			try(m)
		}
	}
	for _, c := range [6]float64{2, 2, 1.5, 1.5, 1, 1} {
		next, ok := solve(live, func(p found) float64 {
			e := miss(best, p) / (c * tol)
			w := max(0, 1-e*e)
			return w * w * p.score * p.score
		})
		if !ok || !near(next, stiff) {
			break
		}
		best = next
	}
	return best, bestVotes > 0
}

// near says whether the linear part is within stiff of the identity.
func near(m affine.Matrix, stiff float64) bool {
	return math.Abs(m[0]-1) <= stiff && math.Abs(m[1]) <= stiff && math.Abs(m[3]) <= stiff && math.Abs(m[4]-1) <= stiff
}

// miss is the distance between where m and where the patch itself says that
// the patch lies.
func miss(m affine.Matrix, p found) float64 {
	x, y := m.Apply(p.x, p.y)
	return math.Hypot(x-p.x-p.dx, y-p.y-p.dy)
}

// solve is the weighted least-squares affine map through the patches. ok is
// false where they lie on a line or weigh nothing.
func solve(patches []found, weight func(found) float64) (m affine.Matrix, ok bool) {
	var n, cx, cy, ux, uy float64
	for _, p := range patches {
		w := weight(p)
		n += w
		cx += w * p.x
		cy += w * p.y
		ux += w * p.dx
		uy += w * p.dy
	}
	if n < 1e-9 {
		return affine.Identity, false
	}
	cx, cy, ux, uy = cx/n, cy/n, ux/n, uy/n
	var xx, xy, yy, ax, ay, bx, by float64
	for _, p := range patches {
		w := weight(p)
		x, y, u, v := p.x-cx, p.y-cy, p.dx-ux, p.dy-uy
		xx += w * x * x
		xy += w * x * y
		yy += w * y * y
		ax += w * x * u
		ay += w * y * u
		bx += w * x * v
		by += w * y * v
	}
	d := xx*yy - xy*xy
	if d <= 1e-3*xx*yy || d <= 0 {
		return affine.Identity, false
	}
	a, b := (ax*yy-ay*xy)/d, (ay*xx-ax*xy)/d
	c, e := (bx*yy-by*xy)/d, (by*xx-bx*xy)/d
	return affine.Matrix{1 + a, b, ux - a*cx - b*cy, c, 1 + e, uy - c*cx - e*cy}, true
}

package register

import (
	"math"
	"slices"
)

// Local is a smooth displacement that is left in the key's frame after the
// affine map, as unevenly shrunken film leaves it: the plate shows at
// Matrix·(x + d(x)) what the key shows at x. Each of d's two parts is a sum of
// the seven products of Legendre polynomials of degree two and three; the
// affine part is the matrix's own.
type Local struct {
	W  int            `json:"w"`
	H  int            `json:"h"`
	CX [terms]float64 `json:"cx"` // pixels of the key
	CY [terms]float64 `json:"cy"`

	// Before and After sum up offsets that the fit had not seen: each fifth
	// of the patches against a fit to the others.
	Before Residual `json:"before"`
	After  Residual `json:"after"`
}

const terms = 7

// basis evaluates the products at (x, y), scaled to -1..1 over the picture.
func (l *Local) basis(x, y float64) [terms]float64 {
	u, v := 2*x/float64(max(l.W-1, 1))-1, 2*y/float64(max(l.H-1, 1))-1
	u, v = min(max(u, -1), 1), min(max(v, -1), 1)
	p2 := func(t float64) float64 { return (3*t*t - 1) / 2 }
	p3 := func(t float64) float64 { return (5*t*t*t - 3*t) / 2 }
	return [terms]float64{p2(u), u * v, p2(v), p3(u), p2(u) * v, u * p2(v), p3(v)}
}

// At is the displacement at the key's pixel (x, y).
func (l *Local) At(x, y float64) (dx, dy float64) {
	for i, b := range l.basis(x, y) {
		dx += l.CX[i] * b
		dy += l.CY[i] * b
	}
	return dx, dy
}

// Worth tells whether switching the displacement on betters the register: of
// patches that the fit had not seen it leaves at most nine tenths at the median,
// and at 95 % no more than before. Else it only learns the noise.
func (l *Local) Worth() bool {
	return l.W != 0 && l.After.Median <= 0.9*l.Before.Median && l.After.P95 <= l.Before.P95
}

// Largest bounds how far any place is moved, in pixels of the key.
func (l *Local) Largest() float64 {
	var x, y float64
	for i := range l.CX {
		x, y = x+math.Abs(l.CX[i]), y+math.Abs(l.CY[i])
	}
	return math.Hypot(x, y)
}

// Folds says whether the displacement turns any part of the picture over, or
// shrinks it below half.
func (l *Local) Folds() bool {
	const n = 24
	sx, sy := float64(l.W-1)/n, float64(l.H-1)/n
	for j := range n {
		for i := range n {
			x, y := float64(i)*sx, float64(j)*sy
			ax, ay := l.At(x, y)
			bx, by := l.At(x+sx, y)
			cx, cy := l.At(x, y+sy)
			det := (1+(bx-ax)/sx)*(1+(cy-ay)/sy) - (cx-ax)/sy*(by-ay)/sx
			if !(det > 0.5) {
				return true
			}
		}
	}
	return false
}

// Smooth fits a Local to the offsets of a plate that agree, for a key of w × h
// pixels. ok is false where fewer than 20 patches agree, or where the fit
// would fold. Whether it is worth switching on, Before and After tell: on a
// stiff plate it only learns the noise.
func Smooth(field []Offset, w, h int) (l Local, ok bool) {
	var live []Offset
	for _, o := range field {
		if !o.Outvoted && o.Certainty > 0 {
			live = append(live, o)
		}
	}
	l = Local{W: w, H: h}
	if len(live) < 20 || w < 2 || h < 2 {
		return l, false
	}
	var before, after []float64
	for fold := range 5 {
		part := Local{W: w, H: h}
		var seen []Offset
		for i, o := range live {
			if i%5 != fold {
				seen = append(seen, o)
			}
		}
		part.fit(seen)
		for i, o := range live {
			if i%5 == fold {
				dx, dy := part.At(o.X, o.Y)
				before = append(before, math.Hypot(o.DX, o.DY))
				after = append(after, math.Hypot(o.DX-dx, o.DY-dy))
			}
		}
	}
	l.Before, l.After = summary(before), summary(after)
	l.fit(live)
	return l, !l.Folds()
}

// fit solves the normal equations of both parts, each patch weighted with its
// certainty, with a ridge of 0.3 % of the patches' weight that holds
// down what they do not decide.
func (l *Local) fit(offsets []Offset) {
	var a [terms][terms + 2]float64
	var all float64
	for _, o := range offsets {
		b := l.basis(o.X, o.Y)
		all += o.Certainty
		for i := range b {
			for j := range b {
				a[i][j] += o.Certainty * b[i] * b[j]
			}
			a[i][terms] += o.Certainty * b[i] * o.DX
			a[i][terms+1] += o.Certainty * b[i] * o.DY
		}
	}
	for i := range terms {
		a[i][i] += 0.003 * all
	}
	// The matrix is symmetric and, by the ridge, positive: no pivots.
	for c := range terms {
		for r := c + 1; r < terms; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k < terms+2; k++ {
				a[r][k] -= f * a[c][k]
			}
		}
	}
	for c := terms - 1; c >= 0; c-- {
		x, y := a[c][terms], a[c][terms+1]
		for k := c + 1; k < terms; k++ {
			x -= a[c][k] * l.CX[k]
			y -= a[c][k] * l.CY[k]
		}
		l.CX[c], l.CY[c] = x/a[c][c], y/a[c][c]
	}
}

// summary sorts v and gives its median, 95th percentile and largest value.
func summary(v []float64) Residual {
	if len(v) == 0 {
		return Residual{}
	}
	slices.Sort(v)
	n := len(v)
	return Residual{Median: v[n/2], P95: v[min(n*95/100, n-1)], Max: v[n-1]}
}

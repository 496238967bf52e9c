package main

import "math"

// touch is how near a stepping ray counts as having met a surface, and lift
// how far a new ray starts from the surface that it leaves: 0.04 and 0.25 mm.
const (
	touch = 4e-4
	lift  = 2.5e-3
)

// hit is where a ray meets a shape: how far along it, the unit normal
// outwards, and which part of the shape.
type hit struct {
	T    float64
	N    vec
	Part int
}

// shape is a solid that rays can meet.
type shape interface {
	// intersect finds the nearest meeting with T in t0 … t1 and writes it to h;
	// d is a unit vector.
	intersect(o, d vec, t0, t1 float64, h *hit) bool
	// bound returns a sphere around the shape.
	bound() (centre vec, radius float64)
}

// egg is an ellipsoid with half axes R along its frame's axes.
type egg struct {
	frame
	R vec
}

func ball(c vec, r float64) *egg { return &egg{place(c, 0, 0, 0), vec{r, r, r}} }

func (e *egg) bound() (vec, float64) { return e.O, max(e.R.X, e.R.Y, e.R.Z) }

func (e *egg) intersect(o, d vec, t0, t1 float64, h *hit) bool {
	p, q := e.local(o), e.in(d)
	p = vec{p.X / e.R.X, p.Y / e.R.Y, p.Z / e.R.Z}
	q = vec{q.X / e.R.X, q.Y / e.R.Y, q.Z / e.R.Z}
	a, b, c := q.dot(q), p.dot(q), p.dot(p)-1
	disc := b*b - a*c
	if disc < 0 {
		return false
	}
	root := math.Sqrt(disc)
	t := (-b - root) / a
	if t <= t0 {
		t = (-b + root) / a
	}
	if t <= t0 || t >= t1 {
		return false
	}
	s := p.along(t, q)
	h.T = t
	h.N = e.out(vec{s.X / e.R.X, s.Y / e.R.Y, s.Z / e.R.Z}).unit()
	return true
}

// block is a box with half sides R about its frame's origin. Part is the axis
// of the face, 0 to 2, and 3 to 5 for the faces on the negative side.
type block struct {
	frame
	R vec
}

func (b *block) bound() (vec, float64) { return b.O, b.R.len() }

func (b *block) intersect(o, d vec, t0, t1 float64, h *hit) bool {
	p, q := b.local(o), b.in(d)
	ps, qs, rs := [3]float64{p.X, p.Y, p.Z}, [3]float64{q.X, q.Y, q.Z}, [3]float64{b.R.X, b.R.Y, b.R.Z}
	enter, leave := math.Inf(-1), math.Inf(1)
	axis := 0
	for i := range 3 {
		lo, hi := (-rs[i]-ps[i])/qs[i], (rs[i]-ps[i])/qs[i]
		if lo > hi {
			lo, hi = hi, lo
		}
		if lo > enter {
			enter, axis = lo, i
		}
		leave = min(leave, hi)
	}
	if !(enter < leave) || enter <= t0 || enter >= t1 {
		return false
	}
	h.T, h.Part = enter, axis
	n := [3]vec{b.U, b.V, b.W}[axis]
	if qs[axis] > 0 {
		n, h.Part = n.mul(-1), axis+3
	}
	h.N = n
	return true
}

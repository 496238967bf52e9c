package main

import "math"

// field is a solid given by a distance function that is tabulated over a box
// of its frame.
type field struct {
	frame
	lo, hi     vec
	cell       float64
	nx, ny, nz int
	dist       []float32
}

func tabulate(f frame, lo, hi vec, cell float64, distance func(vec) float64) *field {
	t := &field{frame: f, lo: lo, hi: hi, cell: cell}
	size := hi.sub(lo)
	t.nx, t.ny, t.nz = int(size.X/cell)+2, int(size.Y/cell)+2, int(size.Z/cell)+2
	t.dist = make([]float32, t.nx*t.ny*t.nz)
	spread(t.nz, func(k int) {
		for j := range t.ny {
			for i := range t.nx {
				p := vec{lo.X + float64(i)*cell, lo.Y + float64(j)*cell, lo.Z + float64(k)*cell}
				t.dist[(k*t.ny+j)*t.nx+i] = float32(distance(p))
			}
		}
	})
	return t
}

func (f *field) bound() (vec, float64) {
	return f.point(f.lo.add(f.hi).mul(0.5)), f.hi.sub(f.lo).len() / 2
}

// at interpolates the distance at the local point p, held to the box.
func (f *field) at(p vec) float64 {
	x := min(max((p.X-f.lo.X)/f.cell, 0), float64(f.nx)-1.001)
	y := min(max((p.Y-f.lo.Y)/f.cell, 0), float64(f.ny)-1.001)
	z := min(max((p.Z-f.lo.Z)/f.cell, 0), float64(f.nz)-1.001)
	i, j, k := int(x), int(y), int(z)
	u, v, w := float32(x-float64(i)), float32(y-float64(j)), float32(z-float64(k))
	row := func(j, k int) float32 {
		r := f.dist[(k*f.ny+j)*f.nx+i:]
		return r[0] + (r[1]-r[0])*u
	}
	near := row(j, k) + (row(j+1, k)-row(j, k))*v
	far := row(j, k+1) + (row(j+1, k+1)-row(j, k+1))*v
	return float64(near + (far-near)*w)
}

func (f *field) intersect(o, d vec, t0, t1 float64, h *hit) bool {
	o, d = f.local(o), f.in(d)
	t0, t1 = clip(o, d, f.lo, f.hi, t0, t1)
	for t, n := t0, 0; t < t1 && n < 200; n++ {
		p := o.along(t, d)
		dist := f.at(p)
		if dist < touch {
			e := f.cell
			g := vec{
				f.at(vec{p.X + e, p.Y, p.Z}) - f.at(vec{p.X - e, p.Y, p.Z}),
				f.at(vec{p.X, p.Y + e, p.Z}) - f.at(vec{p.X, p.Y - e, p.Z}),
				f.at(vec{p.X, p.Y, p.Z + e}) - f.at(vec{p.X, p.Y, p.Z - e}),
			}
			h.T, h.N = t, f.out(g).unit()
			return true
		}
		t += max(0.9*dist, touch)
	}
	return false
}

// clip shortens t0 … t1 to the part of the ray inside the box lo … hi.
func clip(o, d, lo, hi vec, t0, t1 float64) (float64, float64) {
	slab := func(o, d, lo, hi float64) {
		a, b := (lo-o)/d, (hi-o)/d
		t0, t1 = max(t0, min(a, b)), min(t1, max(a, b))
	}
	slab(o.X, d.X, lo.X, hi.X)
	slab(o.Y, d.Y, lo.Y, hi.Y)
	slab(o.Z, d.Z, lo.Z, hi.Z)
	return t0, t1
}

// The pieces that distance functions are built of.

func toBall(p, c vec, r float64) float64 { return p.sub(c).len() - r }

// toEgg is a lower estimate of the distance from an ellipsoid.
func toEgg(p, c, r vec) float64 {
	q := p.sub(c)
	k0 := vec{q.X / r.X, q.Y / r.Y, q.Z / r.Z}.len()
	k1 := vec{q.X / (r.X * r.X), q.Y / (r.Y * r.Y), q.Z / (r.Z * r.Z)}.len()
	if k1 < 1e-12 {
		return -min(r.X, r.Y, r.Z)
	}
	return k0 * (k0 - 1) / k1
}

// toRod is the distance from a rod with round ends of radius ra and rb.
func toRod(p, a, b vec, ra, rb float64) float64 {
	ab := b.sub(a)
	t := min(max(p.sub(a).dot(ab)/ab.dot(ab), 0), 1)
	return p.sub(a.along(t, ab)).len() - (ra + (rb-ra)*t)
}

// blend is the union of two solids with a fillet of about k.
func blend(a, b, k float64) float64 {
	h := max(k-math.Abs(a-b), 0) / k
	return min(a, b) - h*h*k/4
}

// carve takes b out of a, with a fillet of about k.
func carve(a, b, k float64) float64 { return -blend(-a, b, k) }

package main

import (
	"math"
	"slices"
)

// cloth is a woven cloth laid on the table, as a height above it that is
// tabulated over x and z.
type cloth struct {
	lo, hi vec
	cell   float64
	nx, nz int
	height []float32
}

// fold is a ridge along a bent line: through (X, Z), towards Turn degrees,
// bending by Bend a unit.
type fold struct{ X, Z, Turn, Bend, High, Wide, Long float64 }

func (f fold) at(x, z float64) float64 {
	s, c := math.Sincos(f.Turn * math.Pi / 180)
	u, v := (x-f.X)*c+(z-f.Z)*s, -(x-f.X)*s+(z-f.Z)*c
	v -= f.Bend*u*u + 0.10*math.Sin(1.7*u+f.X)
	wide := f.Wide * (1 + 0.25*u/f.Long)
	return f.High * math.Exp(-v*v/(2*wide*wide)) * (1 - ramp(math.Abs(u), 0.55*f.Long, f.Long))
}

// lay spreads the cloth over the table. covered says how far inside the
// cloth's hem a point lies, and rest how near to something that stands on the
// cloth and presses it down (1 right under it).
func lay(lo, hi vec, cell float64, folds []fold, covered, rest func(x, z float64) float64) *cloth {
	c := &cloth{lo: lo, hi: hi, cell: cell}
	c.nx, c.nz = int((hi.X-lo.X)/cell)+2, int((hi.Z-lo.Z)/cell)+2
	c.height = make([]float32, c.nx*c.nz)
	spread(c.nz, func(k int) {
		for i := range c.nx {
			x, z := lo.X+float64(i)*cell, lo.Z+float64(k)*cell
			h := 0.0
			for _, f := range folds {
				h += f.at(x, z)
			}
			h += 0.05 * (cloudy(vec{x * 1.3, 0, z * 1.3}, 2) - 0.3)
			h *= 1 - rest(x, z)
			in := covered(x, z)
			h = 0.035 + max(h, 0)*ramp(in, 0, 0.5)
			h = h*ramp(in, -0.02, 0.05) - 0.02
			c.height[k*c.nx+i] = float32(h)
		}
	})
	c.hi.Y = float64(slices.Max(c.height)) + touch
	return c
}

func (c *cloth) bound() (vec, float64) {
	return c.lo.add(c.hi).mul(0.5), c.hi.sub(c.lo).len() / 2
}

func (c *cloth) at(x, z float64) float64 {
	fx := min(max((x-c.lo.X)/c.cell, 0), float64(c.nx)-1.001)
	fz := min(max((z-c.lo.Z)/c.cell, 0), float64(c.nz)-1.001)
	i, k := int(fx), int(fz)
	u, w := float32(fx-float64(i)), float32(fz-float64(k))
	a, b := c.height[k*c.nx+i:], c.height[(k+1)*c.nx+i:]
	near := a[0] + (a[1]-a[0])*u
	return float64(near + (b[0]+(b[1]-b[0])*u-near)*w)
}

func (c *cloth) intersect(o, d vec, t0, t1 float64, h *hit) bool {
	t0, t1 = clip(o, d, c.lo, c.hi, t0, t1)
	above := t0
	for t, n := t0, 0; t < t1 && n < 120; n++ {
		p := o.along(t, d)
		dist := p.Y - c.at(p.X, p.Z)
		if dist < touch {
			if dist < 0 { // the side of a steep fold: back to where the ray went in
				t = c.entry(o, d, above, t)
				p = o.along(t, d)
			}
			e := c.cell
			gx := c.at(p.X+e, p.Z) - c.at(p.X-e, p.Z)
			gz := c.at(p.X, p.Z+e) - c.at(p.X, p.Z-e)
			h.T, h.N = t, vec{-gx, 2 * e, -gz}.unit()
			return true
		}
		above = t
		t += max(0.55*dist, 2*touch)
	}
	return false
}

// entry halves the stretch above … below of a ray that starts over the cloth
// and ends under it, and returns the last place over it.
func (c *cloth) entry(o, d vec, above, below float64) float64 {
	for range 8 {
		mid := (above + below) / 2
		if p := o.along(mid, d); p.Y < c.at(p.X, p.Z) {
			below = mid
		} else {
			above = mid
		}
	}
	return above
}

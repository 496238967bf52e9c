package main

import "math"

// knot is a point of a turned outline: distance from the axis and height.
type knot struct{ R, Y float64 }

// lathe is a solid of revolution about its frame's V axis. The signed distance
// to the outline is tabulated over (r, y), so that a ray steps through it by
// look-ups only.
type lathe struct {
	frame
	line   []knot // the outline, from the axis around to the axis
	normal []knot // outward, at the points of line
	w, h   int
	y0     float64
	rMax   float64 // a little beyond the outline
	cell   float64
	dist   []float32
	near   []uint16 // nearest segment of line
}

// turned makes a lathe from an outline that runs from the axis at the bottom
// outwards and up, and back to the axis. The outline is a Catmull-Rom curve
// through its knots; a knot given twice is a corner.
func turned(f frame, outline ...knot) *lathe {
	l := &lathe{frame: f, line: smooth(outline)}
	l.normal = outward(l.line)
	rMax, y0, y1 := 0.0, math.Inf(1), math.Inf(-1)
	for _, k := range l.line {
		rMax, y0, y1 = max(rMax, k.R), min(y0, k.Y), max(y1, k.Y)
	}
	l.cell = max(rMax, (y1-y0)/1.6) / 110
	l.y0 = y0 - 2*l.cell
	l.rMax = rMax + l.cell
	l.w = int(rMax/l.cell) + 4
	l.h = int((y1-y0)/l.cell) + 6
	l.dist = make([]float32, l.w*l.h)
	l.near = make([]uint16, l.w*l.h)
	for j := range l.h {
		for i := range l.w {
			p := knot{float64(i) * l.cell, l.y0 + float64(j)*l.cell}
			best, at := math.Inf(1), 0
			for s := range len(l.line) - 1 {
				if d, _ := toSegment(p, l.line[s], l.line[s+1]); d < best {
					best, at = d, s
				}
			}
			if inside(p, l.line) {
				best = -best
			}
			l.dist[j*l.w+i], l.near[j*l.w+i] = float32(best), uint16(at)
		}
	}
	return l
}

func smooth(k []knot) []knot {
	const parts = 10
	out := []knot{k[0]}
	for i := range len(k) - 1 {
		if k[i] == k[i+1] {
			continue
		}
		a, b, c, d := k[max(i-1, 0)], k[i], k[i+1], k[min(i+2, len(k)-1)]
		spline := func(a, b, c, d, t float64) float64 {
			return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
		}
		for s := 1; s <= parts; s++ {
			t := float64(s) / parts
			out = append(out, knot{max(spline(a.R, b.R, c.R, d.R, t), 0), spline(a.Y, b.Y, c.Y, d.Y, t)})
		}
	}
	return out
}

func outward(line []knot) []knot {
	side := func(a, b knot) knot {
		d := math.Hypot(b.R-a.R, b.Y-a.Y)
		return knot{(b.Y - a.Y) / d, (a.R - b.R) / d}
	}
	n := make([]knot, len(line))
	for i := range n {
		a := side(line[max(i-1, 0)], line[max(i, 1)])
		b := side(line[min(i, len(line)-2)], line[min(i+1, len(line)-1)])
		n[i] = knot{a.R + b.R, a.Y + b.Y}
	}
	n[0].R, n[len(n)-1].R = 0, 0
	return n
}

// toSegment returns the distance of p from the segment a b, and where along it
// the nearest point lies, 0 … 1.
func toSegment(p, a, b knot) (d, t float64) {
	dx, dy := b.R-a.R, b.Y-a.Y
	t = min(max(((p.R-a.R)*dx+(p.Y-a.Y)*dy)/(dx*dx+dy*dy), 0), 1)
	return math.Hypot(p.R-a.R-t*dx, p.Y-a.Y-t*dy), t
}

// inside counts the crossings of a ray from p outwards; the axis closes the
// outline.
func inside(p knot, line []knot) bool {
	in := false
	for i := range line {
		a, b := line[i], line[(i+1)%len(line)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.R < a.R+(p.Y-a.Y)/(b.Y-a.Y)*(b.R-a.R) {
			in = !in
		}
	}
	return in
}

func (l *lathe) bound() (vec, float64) {
	top := l.y0 + float64(l.h)*l.cell
	c := (top + l.y0) / 2
	r := 0.0
	for _, k := range l.line {
		r = max(r, math.Hypot(k.R, k.Y-c))
	}
	return l.point(vec{0, c, 0}), r
}

// at interpolates the tabulated distance; outside the table it adds how far
// the table is.
func (l *lathe) at(r, y float64) float64 {
	fx, fy := r/l.cell, (y-l.y0)/l.cell
	cx := min(max(fx, 0), float64(l.w)-1.001)
	cy := min(max(fy, 0), float64(l.h)-1.001)
	i, j := int(cx), int(cy)
	u, v := float32(cx-float64(i)), float32(cy-float64(j))
	t := l.dist[j*l.w+i:]
	b := l.dist[(j+1)*l.w+i:]
	top := t[0] + (t[1]-t[0])*u
	d := float64(top + (b[0]+(b[1]-b[0])*u-top)*v)
	if fx != cx || fy != cy {
		d += math.Hypot(fx-cx, fy-cy) * l.cell * 0.7
	}
	return d
}

func (l *lathe) intersect(o, d vec, t0, t1 float64, h *hit) bool {
	o, d = l.local(o), l.in(d)
	t0, t1 = clip(o, d, vec{-l.rMax, l.y0, -l.rMax}, vec{l.rMax, l.y0 + float64(l.h)*l.cell, l.rMax}, t0, t1)
	if t0 >= t1 {
		return false
	}
	t := t0
	p := o.along(t, d)
	dist := l.at(math.Sqrt(p.X*p.X+p.Z*p.Z), p.Y)
	sign := 1.0
	if dist < 0 {
		sign = -1
	}
	for range 160 {
		dist *= sign
		if dist < touch {
			h.T, h.N = t, l.out(l.normalAt(p))
			return true
		}
		t += dist
		if t >= t1 {
			return false
		}
		p = o.along(t, d)
		dist = l.at(math.Sqrt(p.X*p.X+p.Z*p.Z), p.Y)
	}
	return false
}

// normalAt interpolates the outline's normals at the point of it nearest to p.
func (l *lathe) normalAt(p vec) vec {
	r := math.Sqrt(p.X*p.X + p.Z*p.Z)
	q := knot{r, p.Y}
	i := min(max(int(r/l.cell+0.5), 0), l.w-1)
	j := min(max(int((p.Y-l.y0)/l.cell+0.5), 0), l.h-1)
	s := int(l.near[j*l.w+i])
	best, seg, at := math.Inf(1), s, 0.0
	for k := max(s-3, 0); k <= min(s+3, len(l.line)-2); k++ {
		if d, t := toSegment(q, l.line[k], l.line[k+1]); d < best {
			best, seg, at = d, k, t
		}
	}
	a, b := l.normal[seg], l.normal[seg+1]
	n := knot{a.R + (b.R-a.R)*at, a.Y + (b.Y-a.Y)*at}
	if r < 1e-9 {
		return vec{0, math.Copysign(1, n.Y), 0}
	}
	return vec{n.R * p.X / r, n.Y, n.R * p.Z / r}.unit()
}

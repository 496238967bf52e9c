package main

import "math"

// finish is how a surface treats light.
type finish int

const (
	dull   finish = iota // scatters; with a coat where Coat is above 0
	metal                // mirrors, tinted by Colour
	film                 // thin clear glass: mirrors a little, lets the rest straight through
	liquid               // refracts; Colour is its absorption a unit
)

// surface is what a material says of one point.
type surface struct {
	Finish finish
	Colour spectrum
	N      vec     // shading normal, outwards
	Coat   float64 // reflectance of the coat at normal incidence
	Rough  float64 // spread of mirrored rays, as the tangent of an angle
}

// material gives the surface at the point p with normal n of part number part.
type material func(p, n vec, part int) surface

// thing is a shape with its material. Shade is what it lets through of the
// light behind it; nil for nothing.
type thing struct {
	shape
	paint  material
	shade  *spectrum
	centre vec
	radius float64
}

// lamp is a rectangular window with panes, the main light.
type lamp struct {
	centre, u, v, n vec     // u and v are half sides, n points into the room
	area            float64 // of the glass
	glow            spectrum
	across, down    int // panes
}

// world is everything that light can meet.
type world struct {
	things []thing
	lamp   lamp
	room   func(d vec) spectrum // radiance of the room where a ray leaves the scene
}

func (w *world) put(s shape, paint material, shade *spectrum) {
	c, r := s.bound()
	w.things = append(w.things, thing{s, paint, shade, c, r})
}

// nearest finds what the ray meets first.
func (w *world) nearest(o, d vec, t0 float64) (h hit, at *thing) {
	t1 := math.Inf(1)
	for i := range w.things {
		g := &w.things[i]
		v := g.centre.sub(o)
		b := v.dot(d)
		gap := g.radius*g.radius - v.dot(v) + b*b
		if gap <= 0 {
			continue
		}
		s := math.Sqrt(gap)
		lo, hi := max(t0, b-s), min(t1, b+s)
		if lo < hi && g.intersect(o, d, lo, hi, &h) {
			t1, at = h.T, g
		}
	}
	h.T = t1
	return h, at
}

// reach returns what part of the light gets from o to the distance far along
// d; ok is false for none.
func (w *world) reach(o, d vec, far float64) (share spectrum, ok bool) {
	share = flat(1)
	var h hit
	for i := range w.things {
		g := &w.things[i]
		v := g.centre.sub(o)
		b := v.dot(d)
		gap := g.radius*g.radius - v.dot(v) + b*b
		if gap <= 0 {
			continue
		}
		s := math.Sqrt(gap)
		lo, hi := max(lift, b-s), min(far, b+s)
		if lo < hi && g.intersect(o, d, lo, hi, &h) {
			if g.shade == nil {
				return share, false
			}
			share = share.mul(g.shade)
		}
	}
	return share, true
}

// path carries what one camera ray needs on its way.
type path struct {
	*world
	draw *sampler
}

// trace returns the radiance that comes to o against d. bounces counts the
// dull surfaces behind the ray, splits the mirrors and glasses; a ray that
// left a dull surface does not see the lamp, whose light was taken there.
func (p *path) trace(o, d vec, bounces, splits int) spectrum {
	h, at := p.nearest(o, d, lift)
	if bounces == 0 && splits > 0 {
		if t, glow := p.lamp.seen(o, d); t < h.T {
			return glow
		}
	}
	if at == nil {
		return p.room(d)
	}
	pos := o.along(h.T, d)
	s := at.paint(pos, h.N, h.Part)
	switch s.Finish {
	case metal:
		return p.mirrored(pos, d, s, bounces, splits).mul(&s.Colour)
	case film:
		return p.throughFilm(pos, d, s, bounces, splits)
	case liquid:
		return p.throughLiquid(pos, d, h, s, bounces, splits)
	}
	return p.scattered(pos, d, h.N, s, bounces, splits)
}

// deepest is how many mirrors and glasses one after the other a ray follows.
const deepest = 7

func (p *path) mirrored(pos, d vec, s surface, bounces, splits int) spectrum {
	if splits >= deepest {
		return p.room(d)
	}
	n := s.N
	if n.dot(d) > 0 {
		n = n.mul(-1)
	}
	r := d.mirror(n)
	if s.Rough > 0 {
		a, b := p.draw.pair()
		u, v := r.basis()
		sin, cos := math.Sincos(2 * math.Pi * a)
		spread := s.Rough * math.Sqrt(-math.Log(1-0.99*b))
		r = r.add(u.mul(spread * cos)).add(v.mul(spread * sin)).unit()
	}
	return p.trace(pos.add(n.mul(lift)), r, bounces, splits+1)
}

// fresnel is Schlick's approximation (Computer Graphics Forum 13, 233, 1994).
func fresnel(f0, cos float64) float64 {
	x := 1 - cos
	return f0 + (1-f0)*x*x*x*x*x
}

func (p *path) throughFilm(pos, d vec, s surface, bounces, splits int) spectrum {
	if splits >= deepest {
		return p.room(d)
	}
	cos := math.Abs(d.dot(s.N))
	f := 0.0
	if d.dot(s.N) < 0 { // what is mirrored inwards is lost in what lies behind
		f = min(1.5*fresnel(0.04, cos), 1) // both faces of the wall
	}
	tint := s.Colour
	walls := min(1/max(cos, 0.12), 8)
	for i := range tint {
		tint[i] = float32(math.Pow(float64(tint[i]), walls))
	}
	straight := func() spectrum { return p.trace(pos, d, bounces, splits+1).mul(&tint) }
	if splits < 2 {
		out := straight().scale(1 - f)
		m := p.mirrored(pos, d, s, bounces, splits+1)
		out.addScaled(f, &m)
		return out
	}
	if p.draw.one() < f {
		return p.mirrored(pos, d, s, bounces, splits)
	}
	return straight()
}

func (p *path) throughLiquid(pos, d vec, h hit, s surface, bounces, splits int) spectrum {
	if splits >= deepest {
		return p.room(d)
	}
	const index = 1.34
	n, eta := s.N, 1/index
	inside := d.dot(n) > 0
	if inside {
		n, eta = n.mul(-1), index
	}
	cos := -d.dot(n)
	k := 1 - eta*eta*(1-cos*cos)
	f := 1.0
	if k > 0 {
		f = fresnel(0.021, min(cos, math.Sqrt(k)))
	}
	var out spectrum
	if k > 0 {
		r := d.mul(eta).add(n.mul(eta*cos - math.Sqrt(k))).unit()
		out = p.trace(pos.sub(n.mul(lift)), r, bounces, splits+1).scale(1 - f)
	}
	if k <= 0 || splits == 0 { // deeper in, only total reflection counts
		m := p.trace(pos.add(n.mul(lift)), d.mirror(n), bounces, splits+1)
		out.addScaled(f, &m)
	}
	if inside {
		for i := range out {
			out[i] *= float32(math.Exp(-float64(s.Colour[i]) * h.T))
		}
	}
	return out
}

// scattered lights a dull surface: the lamp directly, the rest of the room by
// one more ray, and the coat by a mirrored one. Behind that ray the rest of the
// room counts as even.
func (p *path) scattered(pos, d, face vec, s surface, bounces, splits int) spectrum {
	from := pos.add(face.mul(lift))
	light := p.direct(from, face, s.N)
	if bounces == 0 {
		a, b := p.draw.pair()
		u, v := s.N.basis()
		sin, cos := math.Sincos(2 * math.Pi * a)
		r := math.Sqrt(b)
		dir := u.mul(r * cos).add(v.mul(r * sin)).add(s.N.mul(math.Sqrt(1 - b)))
		if dir.dot(face) > 0 {
			more := p.trace(from, dir, bounces+1, splits)
			light.addScaled(1, &more)
		}
	} else {
		around := p.room(face)
		light.addScaled(0.45, &around)
	}
	out := light.mul(&s.Colour)
	if s.Coat > 0 && bounces == 0 && splits < 4 {
		f := fresnel(s.Coat, math.Abs(d.dot(s.N))) * (1 - 2*min(s.Rough, 0.4))
		out = out.scale(1 - f)
		m := p.mirrored(from, d, s, bounces, splits+1)
		if s.Rough > 0.09 { // a soft sheen: the lamp in it spreads rather than sparkles
			most := float32(0.003 / (s.Rough * s.Rough))
			for i := range m {
				m[i] = min(m[i], most)
			}
		}
		out.addScaled(f, &m)
	}
	return out
}

// direct returns the lamp's share in the radiance of a white matt surface.
func (p *path) direct(from, face, n vec) spectrum {
	a, b := p.draw.pair()
	at := p.lamp.sample(a, b)
	to := at.sub(from)
	far := to.len()
	dir := to.mul(1 / far)
	cos, out := dir.dot(n), -dir.dot(p.lamp.n)
	if cos <= 0 || out <= 0 || dir.dot(face) <= 0 {
		return spectrum{}
	}
	share, ok := p.reach(from, dir, far)
	if !ok {
		return spectrum{}
	}
	return share.mul(&p.lamp.glow).scale(cos * out * p.lamp.area / (math.Pi * far * far))
}

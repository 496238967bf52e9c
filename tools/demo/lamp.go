package main

import "math"

// window makes the lamp: a window of two half sides about a centre that looks
// towards the target.
func window(centre, target vec, wide, high float64, glow spectrum, across, down int) lamp {
	n := target.sub(centre).unit()
	u := vec{0, 1, 0}.cross(n).unit()
	v := n.cross(u)
	return lamp{centre, u.mul(wide), v.mul(high), n, 4 * wide * high * glassShare * glassShare, glow, across, down}
}

// glassShare is how much of the window's width, and of its height, is glass.
const glassShare = 0.92

// pane says whether the point (a, b) of the window, 0 … 1 each way, is glass
// and not a bar.
func (l *lamp) pane(a, b float64) bool {
	bar := func(x float64, n int) bool {
		x *= float64(n)
		return math.Abs(frac(x)-0.5) > glassShare/2
	}
	return !bar(a, l.across) && !bar(b, l.down)
}

// sample spreads (a, b), 0 … 1 each way, evenly over the glass and returns the
// point of it.
func (l *lamp) sample(a, b float64) vec {
	glass := func(x float64, n int) float64 {
		x *= float64(n)
		return (math.Floor(x) + 0.5 + glassShare*(frac(x)-0.5)) / float64(n)
	}
	return l.centre.add(l.u.mul(2*glass(a, l.across) - 1)).add(l.v.mul(2*glass(b, l.down) - 1))
}

// seen returns how far along the ray the window lies and how it shines there;
// an infinite distance where the ray misses it.
func (l *lamp) seen(o, d vec) (float64, spectrum) {
	cos := d.dot(l.n)
	if cos >= 0 {
		return math.Inf(1), spectrum{}
	}
	t := l.centre.sub(o).dot(l.n) / cos
	q := o.along(t, d).sub(l.centre)
	a := (q.dot(l.u)/l.u.dot(l.u) + 1) / 2
	b := (q.dot(l.v)/l.v.dot(l.v) + 1) / 2
	if t <= lift || a < 0 || a > 1 || b < 0 || b > 1 {
		return math.Inf(1), spectrum{}
	}
	if !l.pane(a, b) {
		return t, spectrum{}
	}
	return t, l.glow
}

// sampler hands out the numbers of one camera ray. Pairs come from the R2
// sequence (M. Roberts, 2018), shifted and started anew for every use within a
// pixel, so that the rays of a pixel spread evenly over every use.
type sampler struct {
	random
	pixel uint64
	ray   int
	rays  int
	use   uint64
}

func (s *sampler) pair() (float64, float64) {
	s.use++
	h := hash(s.pixel + s.use*0x632be59bd9b4e019)
	k := hash(h)
	i := float64((s.ray+int(h%uint64(s.rays)))%s.rays) + 1
	const a1, a2 = 0.7548776662466927, 0.5698402909980532
	return frac(unitOf(h) + i*a1), frac(unitOf(k) + i*a2)
}

func (s *sampler) one() float64 { return s.float() }

func frac(x float64) float64 { return x - math.Floor(x) }

package reach

import (
	"math"

	"threeply/proof/cube"
	"threeply/proof/spectrum"
)

// steps is the number of cells along an edge of a face of the solid.
const steps = 64

// Solid is the skin of all colours that layers from nothing to a limit give:
// the six faces of the amounts, each where one layer is absent or at its limit.
type Solid struct {
	triangles [][3]spectrum.Lab // seen from outside all turn the same way
}

// New takes the skin out of a cube. limit is the largest relative thickness of
// a layer.
func New(c *cube.Cube, limit float64) *Solid {
	s := &Solid{triangles: make([][3]spectrum.Lab, 0, 12*steps*steps)}
	limit = min(limit, c.Max)
	var face [steps + 1][steps + 1]spectrum.Lab
	for axis := range 3 {
		for _, end := range []float64{0, 1} {
			for i := range face {
				for j := range face[i] {
					u, v := float64(i)/steps, float64(j)/steps
					var t [3]float64
					t[axis], t[(axis+1)%3], t[(axis+2)%3] = end*limit, u*u*limit, v*v*limit
					face[i][j] = c.At(t)
				}
			}
			for i := range steps {
				for j := range steps {
					a, b, d, e := face[i][j], face[i+1][j], face[i][j+1], face[i+1][j+1]
					if end == 0 {
						b, d = d, b
					}
					s.triangles = append(s.triangles, [3]spectrum.Lab{a, b, e}, [3]spectrum.Lab{a, e, d})
				}
			}
		}
	}
	return s
}

// Volume is the volume of the solid in CIELAB units cubed, by the divergence
// theorem over its skin.
func (s *Solid) Volume() float64 {
	v := 0.0
	for _, t := range s.triangles {
		a, b, c := t[0], t[1], t[2]
		v += a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])
	}
	return math.Abs(v) / 6
}

// Outline returns the largest chroma of any lightness at n hues, equal steps
// of hue angle from 0°: the outline of the solid in the a*b* plane as seen from
// the neutral axis. A hue that the solid does not have gets 0.
func (s *Solid) Outline(n int) []float64 {
	out := make([]float64, n)
	for _, t := range s.triangles {
		for i := range t {
			s.crossings(t[i], t[(i+1)%3], n, func(k int, p point) { out[k] = max(out[k], p.chroma) })
		}
	}
	return out
}

// point is where an edge passes through the half plane of one hue.
type point struct{ lightness, chroma float64 }

// crossings calls f for each of n hues whose half plane the edge passes.
func (s *Solid) crossings(p, q spectrum.Lab, n int, f func(k int, p point)) {
	hp, hq := math.Atan2(p[2], p[1]), math.Atan2(q[2], q[1])
	turn := math.Remainder(hq-hp, 2*math.Pi)
	from, to := hp, hp+turn
	if from > to {
		from, to = to, from
	}
	step := 2 * math.Pi / float64(n)
	for k := math.Ceil(from / step); k*step <= to; k++ {
		sin, cos := math.Sincos(k * step)
		// The edge p + w(q-p) meets the plane where its part across is 0.
		dp, dq := p[2]*cos-p[1]*sin, q[2]*cos-q[1]*sin
		w := 0.0
		if dp != dq {
			w = min(max(dp/(dp-dq), 0), 1)
		}
		a, b := p[1]+w*(q[1]-p[1]), p[2]+w*(q[2]-p[2])
		f(((int(k)%n)+n)%n, point{p[0] + w*(q[0]-p[0]), max(0, a*cos+b*sin)})
	}
}

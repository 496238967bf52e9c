package main

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// camera is a thin lens that looks at the scene. The picture is w × h pixels,
// centres at whole numbers, y down.
type camera struct {
	eye, right, up, ahead vec
	half                  float64 // tangent of half the angle across
	focus, aperture       float64
	w, h                  int
}

func look(eye, target vec, angle, focus, aperture float64, w, h int) camera {
	ahead := target.sub(eye).unit()
	right := ahead.cross(vec{0, 1, 0}).unit()
	return camera{eye, right, right.cross(ahead), ahead, math.Tan(angle / 2 * math.Pi / 180), focus, aperture, w, h}
}

// ray returns the ray through the point (x, y) of the picture and the point
// (lx, ly) of the unit disc of the lens.
func (c *camera) ray(x, y, lx, ly float64) (o, d vec) {
	k := 2 * c.half / float64(c.w)
	u, v := (x-float64(c.w-1)/2)*k, (float64(c.h-1)/2-y)*k
	at := c.eye.add(c.ahead.add(c.right.mul(u)).add(c.up.mul(v)).mul(c.focus))
	o = c.eye.add(c.right.mul(lx * c.aperture)).add(c.up.mul(ly * c.aperture))
	return o, at.sub(o).unit()
}

// project returns where the point p of the scene lies in the picture.
func (c *camera) project(p vec) (x, y float64) {
	q := p.sub(c.eye)
	z := q.dot(c.ahead)
	k := 2 * c.half / float64(c.w) * z
	return q.dot(c.right)/k + float64(c.w-1)/2, float64(c.h-1)/2 - q.dot(c.up)/k
}

// exposures are what the film behind each filter receives, pixel by pixel.
type exposures struct {
	w, h  int
	plate [3][]float32
}

// render exposes the three plates at once, each pixel the mean over rays rays
// under a tent of two pixels. Every pixel draws its own numbers from the seed
// and its place, so the result does not depend on how the work is shared out.
func render(w *world, c *camera, weight [3]spectrum, rays int, seed uint64, ceiling float64) exposures {
	out := exposures{w: c.w, h: c.h}
	for k := range out.plate {
		out.plate[k] = make([]float32, c.w*c.h)
	}
	spread(c.h, func(y int) {
		for x := range c.w {
			id := hash(seed ^ uint64(y)<<32 ^ uint64(x))
			var sum [3]float64
			for i := range rays {
				s := sampler{random: random(hash(id + uint64(i))), pixel: id, ray: i, rays: rays}
				p := path{w, &s}
				jx, jy := s.pair()
				a, b := s.pair()
				sin, cos := math.Sincos(2 * math.Pi * a)
				r := math.Sqrt(b)
				o, d := c.ray(float64(x)+tent(jx), float64(y)+tent(jy), r*cos, r*sin)
				light := p.trace(o, d, 0, 0)
				for k := range sum {
					var e float64
					for n := range light {
						e += float64(light[n] * weight[k][n])
					}
					sum[k] += min(e, ceiling)
				}
			}
			for k := range sum {
				out.plate[k][y*c.w+x] = float32(sum[k] / float64(rays))
			}
		}
	})
	return out
}

// tent turns an even number in 0 … 1 into one in -1 … 1 with its peak at 0.
func tent(x float64) float64 {
	if x < 0.5 {
		return math.Sqrt(2*x) - 1
	}
	return 1 - math.Sqrt(2-2*x)
}

// spread runs work for 0 … n-1, on every processor there is.
func spread(n int, work func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	wait.Wait()
}

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

// render exposes the three plates at once, each pixel the mean of up to rays
// rays under a tent of two pixels; no ray counts more than the ceiling. Every
// pixel draws its own numbers from the seed and its place, so the result does
// not depend on how the work is shared out.
func render(w *world, c *camera, weight [3]spectrum, rays int, seed uint64, ceiling float64) exposures {
	out := exposures{w: c.w, h: c.h}
	for k := range out.plate {
		out.plate[k] = make([]float32, c.w*c.h)
	}
	spread(c.h, func(y int) {
		for x := range c.w {
			id := hash(seed ^ uint64(y)<<32 ^ uint64(x))
			var sum tally
			for i := 0; i < rays && !sum.settled(rays); i++ {
				s := sampler{random: random(hash(id + uint64(i))), pixel: id, ray: i, rays: rays}
				p := path{w, &s}
				jx, jy := s.pair()
				a, b := s.pair()
				sin, cos := math.Sincos(2 * math.Pi * a)
				r := math.Sqrt(b)
				o, d := c.ray(float64(x)+tent(jx), float64(y)+tent(jy), r*cos, r*sin)
				sum.add(p.trace(o, d, 0, 0), &weight, ceiling)
			}
			for k := range sum.sum {
				out.plate[k][y*c.w+x] = float32(sum.sum[k] / sum.n)
			}
		}
	})
	return out
}

// tally sums the rays of one pixel.
type tally struct {
	n      float64
	sum    [3]float64
	square float64 // of the second plate
}

func (t *tally) add(light spectrum, weight *[3]spectrum, ceiling float64) {
	t.n++
	for k := range t.sum {
		var e float64
		for i := range light {
			e += float64(light[i] * weight[k][i])
		}
		e = min(e, ceiling)
		t.sum[k] += e
		if k == 1 {
			t.square += e * e
		}
	}
}

// settled says that half of the rays at least are in and that their mean is
// good to 1.2 %, less than half of what the grain does to it.
func (t *tally) settled(rays int) bool {
	if t.n < max(float64(rays)/2, 4) {
		return false
	}
	mean := t.sum[1] / t.n
	variance := (t.square/t.n - mean*mean) / (t.n - 1)
	return variance < 0.012*0.012*mean*mean
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

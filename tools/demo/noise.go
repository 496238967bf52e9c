package main

import "math"

// hash mixes the bits of x: the finaliser of SplitMix64 (Steele, Lea, Flood,
// OOPSLA 2014).
func hash(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// unitOf turns the bits of a hash into a number in 0 … 1, 1 left out.
func unitOf(h uint64) float64 { return float64(h>>11) * 0x1p-53 }

// random is a small generator whose numbers depend on its seed only.
type random uint64

func (r *random) float() float64 {
	*r++
	return unitOf(hash(uint64(*r)))
}

// between returns a number in a … b.
func (r *random) between(a, b float64) float64 { return a + (b-a)*r.float() }

// normal returns a normally distributed number, by Box and Muller.
func (r *random) normal() float64 {
	return math.Sqrt(-2*math.Log(1-r.float())) * math.Cos(2*math.Pi*r.float())
}

func lattice(x, y, z int) float64 {
	return unitOf(hash(uint64(x)*0x8da6b343 ^ uint64(y)*0xd8163841<<8 ^ uint64(z)*0xcb1ab31f<<16))
}

func fade(t float64) float64 { return t * t * (3 - 2*t) }

// grain3 is value noise in space, 0 … 1, with details of size 1.
func grain3(x, y, z float64) float64 {
	xf, yf, zf := math.Floor(x), math.Floor(y), math.Floor(z)
	i, j, k := int(xf), int(yf), int(zf)
	u, v, w := fade(x-xf), fade(y-yf), fade(z-zf)
	lerp := func(a, b, t float64) float64 { return a + (b-a)*t }
	return lerp(
		lerp(lerp(lattice(i, j, k), lattice(i+1, j, k), u), lerp(lattice(i, j+1, k), lattice(i+1, j+1, k), u), v),
		lerp(lerp(lattice(i, j, k+1), lattice(i+1, j, k+1), u), lerp(lattice(i, j+1, k+1), lattice(i+1, j+1, k+1), u), v), w)
}

// cloudy sums n octaves of grain3; the result lies in 0 … 1 around 0.5.
func cloudy(p vec, n int) float64 {
	sum, amp, norm := 0.0, 1.0, 0.0
	for range n {
		sum += amp * grain3(p.X, p.Y, p.Z)
		norm += amp
		amp /= 2
		p = vec{p.X*2.03 + 17.1, p.Y*2.03 + 5.7, p.Z*2.03 - 9.3}
	}
	return sum / norm
}

// ramp is 0 below a, 1 above b, and smooth between.
func ramp(x, a, b float64) float64 { return fade(min(max((x-a)/(b-a), 0), 1)) }

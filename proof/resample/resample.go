// Package resample reads a plane between its pixels, for pictures that are drawn from it.
package resample

import (
	"math"
	"sync"

	"threeply/proof/plane"
)

// fractions is how finely the kernel is tabulated: a position is off by less
// than a two-thousandth of a pixel.
const fractions = 1024

// lobe is how many neighbours along each axis the kernel reads before and after a place.
const lobe = 3

// lanczos tabulates Lanczos's kernel of three lobes (C. E. Duchon, J. Appl.
// Meteorology 18 (1979) 1016),
//
//	sinc(x)·sinc(x/3), |x| < 3,
//
// for six neighbours, each row scaled to the sum 1.
var lanczos = sync.OnceValue(func() *[fractions + 1][2 * lobe]float32 {
	var t [fractions + 1][2 * lobe]float32
	for f := range t {
		var sum float64
		var row [2 * lobe]float64
		for k := range row {
			x := float64(f)/fractions - float64(k-2)
			row[k] = 1
			if x != 0 {
				a := math.Pi * x
				row[k] = 3 * math.Sin(a) * math.Sin(a/3) / (a * a)
			}
			if math.Abs(x) >= 3 {
				row[k] = 0
			}
			sum += row[k]
		}
		for k, v := range row {
			t[f][k] = float32(v / sum)
		}
	}
	return &t
})

// sample reads the plane at (x, y), which lies on it, by the kernel of its own size.
func sample(p *plane.Plane, table *[fractions + 1][2 * lobe]float32, x, y float64) uint16 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int(fx), int(fy)
	wx := &table[int((x-fx)*fractions+0.5)]
	wy := &table[int((y-fy)*fractions+0.5)]
	var sum float32
	if ix >= 2 && iy >= 2 && ix+3 < p.W && iy+3 < p.H {
		for j, k := range wy {
			r := (*[2 * lobe]uint16)(p.Pix[(iy+j-2-p.From)*p.W+ix-2:])
			sum += k * (wx[0]*float32(r[0]) + wx[1]*float32(r[1]) + wx[2]*float32(r[2]) + wx[3]*float32(r[3]) + wx[4]*float32(r[4]) + wx[5]*float32(r[5]))
		}
	} else {
		for j, k := range wy {
			r := p.Row(min(max(iy+j-2, 0), p.H-1))
			for i, c := range wx {
				sum += k * c * float32(r[min(max(ix+i-2, 0), p.W-1)])
			}
		}
	}
	return uint16(min(max(sum+0.5, 0), 65535))
}

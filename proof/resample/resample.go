// Package resample draws a plane as it is seen through a map.
package resample

import (
	"math"
	"runtime"
	"sync"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/warp"
)

// fractions is how finely the kernel is tabulated: a position is off by less
// than a two-thousandth of a pixel.
const fractions = 1024

// lanczos tabulates Lanczos's kernel of three lobes (C. E. Duchon, J. Appl.
// Meteorology 18 (1979) 1016),
//
//	sinc(x)·sinc(x/3), |x| < 3,
//
// for six neighbours, each row scaled to the sum 1.
var lanczos = sync.OnceValue(func() *[fractions + 1][6]float32 {
	var t [fractions + 1][6]float32
	for f := range t {
		var sum float64
		var row [6]float64
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

// Plane draws the plate p as the key sees it: w × h pixels, m from the key's
// pixel to the plate's, fill where the plate does not reach. It does so once,
// from the plate's own codes, with Lanczos's kernel; where m shrinks the plate
// by much more than a tenth the kernel is too narrow and fine grain aliases.
// local, where not nil, is added to the key's pixel before m.
func Plane(p *plane.Plane, m affine.Matrix, local *warp.Local, w, h int, fill uint16) *plane.Plane {
	out := plane.New(w, h)
	table := lanczos()
	bands := runtime.GOMAXPROCS(0)
	var wg sync.WaitGroup
	for b := range bands {
		wg.Go(func() {
			for y := h * b / bands; y < h*(b+1)/bands; y++ {
				row := out.Row(y)
				for x := range row {
					kx, ky := float64(x), float64(y)
					if local != nil {
						dx, dy := local.At(kx, ky)
						kx, ky = kx+dx, ky+dy
					}
					px, py := m.Apply(kx, ky)
					if !(px >= -0.5 && py >= -0.5 && px <= float64(p.W)-0.5 && py <= float64(p.H)-0.5) {
						row[x] = fill
						continue
					}
					row[x] = sample(p, table, px, py)
				}
			}
		})
	}
	wg.Wait()
	return out
}

// sample reads the plane at (x, y), which lies on it, by the kernel of its own size.
func sample(p *plane.Plane, table *[fractions + 1][6]float32, x, y float64) uint16 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int(fx), int(fy)
	wx := &table[int((x-fx)*fractions+0.5)]
	wy := &table[int((y-fy)*fractions+0.5)]
	var sum float32
	if ix >= 2 && iy >= 2 && ix+3 < p.W && iy+3 < p.H {
		for j, k := range wy {
			r := (*[6]uint16)(p.Pix[(iy+j-2)*p.W+ix-2:])
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

//go:build js

package main

import (
	"image"

	"threeply/proof/pigment"
	"threeply/proof/plane"
)

// leastSpan is the least part of the tones that full contrast spreads over the
// whole scale: beyond it grain would stand as strong as the picture.
const leastSpan = 0.05

// tonesSeen are the ends that an enlarged pane of one plate is drawn between:
// the tones of the part r of its plane, but for the last hundredth at either
// end, where full contrast is asked for, else the whole scale.
func (a *app) tonesSeen(p pane, on *plane.Plane, r image.Rectangle) [2]float32 {
	r = r.Intersect(image.Rect(0, 0, on.W, on.H))
	if !a.contrast || p.show != showPlate || p.magnified == nil || r.Empty() {
		return [2]float32{0, 1}
	}
	const bins = 1024
	var count [bins]int
	curve, n := a.curves[pigment.Printer(p.plate)].Reference, 0
	dx, dy := max(r.Dx()/128, 1), max(r.Dy()/128, 1)
	for y := r.Min.Y; y < r.Max.Y; y += dy {
		for x := r.Min.X; x < r.Max.X; x += dx {
			v := curve.At(float64(on.Pix[y*on.W+x]))
			count[min(int(v*bins), bins-1)]++
			n++
		}
	}
	end := func(from, step int) float64 {
		i := from
		for left := n / 100; left >= count[i] && i+step >= 0 && i+step < bins; i += step {
			left -= count[i]
		}
		return (float64(i) + 0.5) / bins
	}
	low, high := end(0, 1), end(bins-1, -1)
	if lacks := leastSpan - (high - low); lacks > 0 {
		low, high = low-lacks/2, high+lacks/2
	}
	return [2]float32{float32(low), float32(high)}
}

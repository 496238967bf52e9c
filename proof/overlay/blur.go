package overlay

import (
	"cmp"
	"math"
	"slices"
)

// Of the comparison of sharpness: edges are looked for in cells of the key, one
// a cell and on mostLooked of its rows; each must rise by leastEdge in density, within edgeReach pixels to
// either side, on every plate.
const (
	cells     = 24
	edgeReach = 7
	leastEdge = 0.12
	leastSeen = 12

	mostLooked = 100
)

// Blur returns how far the sharpest edges of each plate are spread, as the
// standard deviation in key pixels of the Gaussian that would spread them so:
//
//	σ = rise / (√(2π) · steepest slope)
//
// over edges that all three plates show, the sharpest quarter of each. It is 0
// where they show too few. Grain makes a plate look sharper than it is; the
// same places are compared, so that what lies in the scene counts for all.
func (p *Plates) Blur() [3]float64 {
	var widths [3][]float64
	w, h := p.Size()
	const margin = edgeReach + 2
	for j := range cells {
		for i := range cells {
			x, y, ux, uy, ok := p.steepest(margin+i*(w-2*margin)/cells, margin+j*(h-2*margin)/cells, margin+(i+1)*(w-2*margin)/cells, margin+(j+1)*(h-2*margin)/cells)
			if !ok {
				continue
			}
			var at [3]float64
			for k := range at {
				at[k] = p.edge(k, x, y, ux, uy)
				ok = ok && at[k] > 0
			}
			if ok {
				for k, v := range at {
					widths[k] = append(widths[k], v)
				}
			}
		}
	}
	var out [3]float64
	if len(widths[0]) < leastSeen {
		return out
	}
	for k, v := range widths {
		slices.SortFunc(v, cmp.Compare[float64])
		out[k] = v[len(v)/4]
	}
	return out
}

// steepest finds the steepest place of the key in a cell and the direction in
// which it rises.
func (p *Plates) steepest(x0, y0, x1, y1 int) (x, y, ux, uy float64, ok bool) {
	q, best := p.Planes[p.Key], 0.0
	const over = 2 // pixels: the grain of one does not count
	stride := max((x1-x0)/mostLooked, (y1-y0)/mostLooked, 1)
	for v := max(y0, over); v < min(y1, q.H-over); v += stride {
		for u := max(x0, over); u < min(x1, q.W-over); u += stride {
			gx := float64(q.At(u+over, v)) - float64(q.At(u-over, v))
			gy := float64(q.At(u, v+over)) - float64(q.At(u, v-over))
			if g := gx*gx + gy*gy; g > best {
				size := math.Sqrt(g)
				best, x, y, ux, uy = g, float64(u), float64(v), gx/size, gy/size
			}
		}
	}
	return x, y, ux, uy, best > 0 && p.InPicture(x, y)
}

// edge is the spread of plate k's edge at a place along a direction, 0 where it
// shows none. Plates may lie a little out of register: the steepest slope is
// taken wherever it lies within reach.
func (p *Plates) edge(k int, x, y, ux, uy float64) float64 {
	const fine = 0.5
	var d []float64
	for t := -float64(edgeReach); t <= edgeReach; t += fine {
		sum, n := 0.0, 0.0
		for a := -1.0; a <= 1; a++ { // along the edge, against grain
			if v, ok := p.Density(k, x+t*ux-a*uy, y+t*uy+a*ux); ok {
				sum += v
				n++
			}
		}
		if n == 0 {
			return 0
		}
		d = append(d, sum/n)
	}
	slope := 0.0
	for i := 2; i < len(d); i++ {
		slope = max(slope, math.Abs(d[i]-d[i-2])/(2*fine))
	}
	rise := math.Abs(d[len(d)-1] - d[0])
	if rise < leastEdge || slope <= 0 {
		return 0
	}
	return rise / (math.Sqrt(2*math.Pi) * slope)
}

package overlay

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/plane"
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
	over       = 2 // pixels to either side, over which a slope is taken: the grain of one does not count
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
		y0, y1 := margin+j*(h-2*margin)/cells, margin+(j+1)*(h-2*margin)/cells
		p.Planes[p.Key].Expect([]plane.Box{{X0: 0, Y0: y0 - over, X1: w, Y1: y1 + over}})
		var places []slope
		for i := range cells {
			if at, ok := p.steepest(margin+i*(w-2*margin)/cells, y0, margin+(i+1)*(w-2*margin)/cells, y1); ok {
				places = append(places, at)
			}
		}
		p.expect(places)
		for _, s := range places {
			ok := true
			var at [3]float64
			for k := range at {
				at[k] = p.edge(k, s.x, s.y, s.ux, s.uy)
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

// slope is a place of the key and the direction in which it rises there, of length 1.
type slope struct{ x, y, ux, uy float64 }

// steepest finds the steepest place of the key in a cell.
func (p *Plates) steepest(x0, y0, x1, y1 int) (at slope, ok bool) {
	q, best := p.Planes[p.Key], 0.0
	stride := max((x1-x0)/mostLooked, (y1-y0)/mostLooked, 1)
	x0, y0, x1, y1 = max(x0, over), max(y0, over), min(x1, q.W-over), min(y1, q.H-over)
	if x1 <= x0 || y1 <= y0 {
		return at, false
	}
	var room []uint16
	cell := q.Window(plane.Box{X0: x0 - over, Y0: y0 - over, X1: x1 + over, Y1: y1 + over}, &room)
	for v := y0; v < y1; v += stride {
		for u := x0; u < x1; u += stride {
			o := v*cell.Stride + u - cell.Base
			gx := float64(cell.Pix[o+over]) - float64(cell.Pix[o-over])
			gy := float64(cell.Pix[o+over*cell.Stride]) - float64(cell.Pix[o-over*cell.Stride])
			if g := gx*gx + gy*gy; g > best {
				size := math.Sqrt(g)
				best, at = g, slope{float64(u), float64(v), gx / size, gy / size}
			}
		}
	}
	return at, best > 0 && p.InPicture(at.x, at.y)
}

// expect has what edge reads around some places of far planes at once.
func (p *Plates) expect(places []slope) {
	const around = 2*edgeReach + 2
	for k, q := range p.Planes {
		var boxes []plane.Box
		for _, s := range places {
			u, v := p.Ways[k](s.x, s.y)
			x, y := int(min(max(u, 0), float64(q.W))), int(min(max(v, 0), float64(q.H)))
			boxes = append(boxes, plane.Box{X0: x - around, Y0: y - around, X1: x + around, Y1: y + around})
		}
		q.Expect(boxes)
	}
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

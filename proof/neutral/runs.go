package neutral

import (
	"math"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// flatRun is a row of flat stretches along a line, from the middle of the first
// to the middle of the last, in pixels of the whole key.
type flatRun struct {
	n              int
	span           float64 // in density
	x0, y0, x1, y1 float64
}

func (r flatRun) worth() float64 { return float64(r.n) * r.span }

// near says whether the run lies on the scale that was found.
func (r flatRun) near(s Scale) bool {
	length := math.Hypot(s.X1-s.X0, s.Y1-s.Y0)
	return math.Hypot((r.x0+r.x1-s.X0-s.X1)/2, (r.y0+r.y1-s.Y0-s.Y1)/2) < length/2
}

// runs looks along lines at every angle for rows of flat stretches. unit is the
// size of a pixel of p in pixels of the whole key.
func runs(p *plane.Plane, unit float64) []flatRun {
	var out []flatRun
	full := func(v float64) float64 { return (v+0.5)*unit - 0.5 }
	cx, cy := float64(p.W-1)/2, float64(p.H-1)/2
	reach := math.Hypot(cx, cy)
	line := make([]float64, 0, int(2*reach)+2)
	for turn := 0.0; turn < 180; turn += findTurn {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		for off := -reach; off <= reach; off += findApart {
			line = line[:0]
			var x0, y0 float64
			for t := -reach; t <= reach; t++ {
				x, y := cx+t*cos-off*sin, cy+t*sin+off*cos
				if x < 0 || y < 0 || x > float64(p.W-1) || y > float64(p.H-1) {
					continue
				}
				if len(line) == 0 {
					x0, y0 = x, y
				}
				line = append(line, p.Bilinear(x, y)*(density.Max/65535))
			}
			for _, r := range rows(line) {
				first, last := r[0], r[len(r)-1]
				a, b := first.middle(), last.middle()
				out = append(out, flatRun{
					len(r), math.Abs(last.level[0] - first.level[0]),
					full(x0 + a*cos), full(y0 + a*sin), full(x0 + b*cos), full(y0 + b*sin),
				})
			}
		}
	}
	return out
}

// rows finds, in the densities along a line, rows of findSteps flat stretches
// and more that go one way, each about as long as the others.
func rows(d []float64) [][]segment {
	flats := flatsOf(d)
	var out [][]segment
	for from := 0; from < len(flats); {
		to := from + 1
		for to < len(flats) && follows(flats[from:to], flats[to]) {
			to++
		}
		if to-from >= findSteps {
			out = append(out, flats[from:to])
		}
		from = max(to-1, from+1)
	}
	return out
}

// follows says whether the next stretch goes on with the row.
func follows(row []segment, next segment) bool {
	last := row[len(row)-1]
	step := next.level[0] - last.level[0]
	if math.Abs(step) < stepFrom || math.Abs(step) > stepTo {
		return false
	}
	if len(row) > 1 && (step > 0) != (last.level[0] > row[len(row)-2].level[0]) {
		return false
	}
	// From middle to middle it is as far as it was before.
	if len(row) > 1 {
		before, now := last.middle()-row[len(row)-2].middle(), next.middle()-last.middle()
		if now > likeSizes*before || before > likeSizes*now {
			return false
		}
	}
	return float64(next.from-last.to) < float64(next.size()+last.size())/2
}

// flatsOf cuts a line into its flat stretches, each as long as it goes.
func flatsOf(d []float64) []segment {
	var out []segment
	for from := 0; from < len(d); {
		lo, hi, to := d[from], d[from], from+1
		for ; to < len(d); to++ { // min and max of fractions are slow in WebAssembly
			v := d[to]
			if v-lo > flatWithin || hi-v > flatWithin {
				break
			}
			if v < lo {
				lo = v
			}
			if v > hi {
				hi = v
			}
		}
		if to-from < leastFlat {
			from++
			continue
		}
		out = append(out, segment{from: from, to: to, level: [3]float64{(lo + hi) / 2}})
		from = to
	}
	return out
}

package neutral

import (
	"cmp"
	"math"
	"slices"

	"threeply/proof/tone"
)

// point is a grey on one plate.
type point struct {
	h   float64 // log10 exposure
	q   float64 // signed density
	err float64 // of q against the key's
}

// line is q = at0 + slope·h.
type line struct{ slope, at0 float64 }

func (l line) at(h float64) float64 { return l.at0 + l.slope*h }

// straightest fits the longest stretch of neighbouring points, half of the
// whole at least, that lies straight: the straight line of the film, without
// its toe and its shoulder. Where no stretch does, or the points are three or
// fewer, it fits all. ok is false where they give no slope. p is in order of h.
func straightest(p []point) (best line, ok bool) {
	best, ok = leastSquares(p)
	if len(p) <= 3 || lies(p, best) {
		return best, ok
	}
	whole, longest := p[len(p)-1].h-p[0].h, 0.0
	for a := range p {
		for b := a + 3; b <= len(p); b++ {
			part := p[a:b]
			length := part[len(part)-1].h - part[0].h
			if length < whole/2 || length <= longest {
				continue
			}
			if l, fits := leastSquares(part); fits && lies(part, l) {
				best, longest = l, length
			}
		}
	}
	return best, ok
}

// lies says whether the points lie on the line.
func lies(p []point, l line) bool {
	for _, x := range p {
		if math.Abs(x.q-l.at(x.h)) > max(straight, 3*x.err) {
			return false
		}
	}
	return true
}

func leastSquares(p []point) (l line, ok bool) {
	n := float64(len(p))
	var h, q, hh, hq float64
	for _, x := range p {
		h += x.h / n
		q += x.q / n
	}
	for _, x := range p {
		hh += (x.h - h) * (x.h - h)
		hq += (x.h - h) * (x.q - q)
	}
	if len(p) < 2 || hh < 1e-4*n {
		return line{}, false
	}
	return line{hq / hh, q - hq/hh*h}, true
}

// mostKnots leaves room for the base in a tone.Bend.
const mostKnots = 14

// bend returns the measured curve of plate i where three greys or more leave
// its line by more than their noise. The unexposed film goes with the greys
// where both rebates show it: it is where the toe ends.
func (f *fitting) bend(i int) (tone.Bend, bool) {
	p, l := f.points(i), f.lines[i]
	if len(p) < 3 || lies(p, l) {
		return tone.Bend{}, false
	}
	p = rising(p)
	for len(p) > mostKnots {
		p = joinClosest(p)
	}
	if base, ok := f.unexposed(i); ok && base.q < p[0].q-straight && base.h < p[0].h {
		p = append([]point{base}, p...)
	}
	var knots []tone.Knot
	for _, x := range p {
		knots = append(knots, tone.Knot{Density: f.sign(i) * x.q, Straight: f.sign(i) * l.at(x.h)})
	}
	slices.SortFunc(knots, func(a, b tone.Knot) int { return cmp.Compare(a.Density, b.Density) })
	b, err := tone.BendOf(knots)
	return b, err == nil
}

// unexposed is film that no light reached, on plate i and on the key.
func (f *fitting) unexposed(i int) (point, bool) {
	if f.counted() || i == f.Key || f.Base[i] < 0 || f.Base[f.Key] < 0 || !f.Films[i].Negative || !f.key.Negative {
		return point{}, false
	}
	return point{h: f.key.LogExposure(f.Base[f.Key]), q: f.Base[i]}, true
}

// rising joins neighbours that lie too close together, or whose densities
// fall, until every step rises: the least squares of a rising curve (the
// pooling of adjacent violators, R. E. Barlow et al., Statistical Inference
// under Order Restrictions, 1972, from memory).
func rising(p []point) []point {
	const closest = 0.004 // density and log exposure
	type pool struct {
		point
		n float64
	}
	var out []pool
	for _, x := range p {
		out = append(out, pool{x, 1})
		for n := len(out); n > 1; n = len(out) {
			a, b := out[n-2], out[n-1]
			if b.q-a.q > closest && b.h-a.h > closest {
				break
			}
			w := a.n + b.n
			joined := point{(a.h*a.n + b.h*b.n) / w, (a.q*a.n + b.q*b.n) / w, min(a.err, b.err)}
			out = append(out[:n-2], pool{joined, w})
		}
	}
	pts := make([]point, len(out))
	for i, x := range out {
		pts[i] = x.point
	}
	return pts
}

// joinClosest joins the two neighbours that lie closest together.
func joinClosest(p []point) []point {
	at := 1
	for j := range p[1:] {
		if p[j+1].h-p[j].h < p[at].h-p[at-1].h {
			at = j + 1
		}
	}
	a, b := p[at-1], p[at]
	p[at-1] = point{(a.h + b.h) / 2, (a.q + b.q) / 2, min(a.err, b.err)}
	return slices.Delete(p, at, at+1)
}

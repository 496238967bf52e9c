package register

import (
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// twins marks plates that hold the same scan twice.
func twins(planes [3]*plane.Plane, out *[3]Plate) {
	for i := range 3 {
		for j := i + 1; j < 3; j++ {
			if same(planes[i], planes[j]) && !flat(planes[i]) {
				out[i].Twin, out[j].Twin = true, true
			}
		}
	}
}

func same(a, b *plane.Plane) bool {
	if a.W != b.W || a.H != b.H {
		return false
	}
	step := max(a.W*a.H/65536, 1)
	return slices.Equal(a.Every(step), b.Every(step))
}

// Two registered plates are alike where one density follows the other along a
// straight line as closely as this, as a share of the spread, with a slope as near
// to 1. Sets of real separations left 0.13 and more, their second scans
// about 0.04 (figures of our own).
const (
	alikeRest  = 0.06
	alikeSlope = 0.1
)

// alike marks plates that show the same tones throughout, as two scans of one
// plate do: another exposure of the scanner only adds to the density. A scene of
// nothing but greys shows them too, so that the user is asked and not told.
func alike(pyramids [3]*pyramid, out *[3]Plate) {
	for i := range 3 {
		for j := i + 1; j < 3; j++ {
			if out[i].Twin && out[j].Twin || min(out[i].Confidence, out[j].Confidence) < 0.6 {
				continue
			}
			back, ok := out[i].Matrix.Inverse()
			if !ok {
				continue
			}
			rest, slope := followsLine(pyramids[i], pyramids[j], out[j].Matrix.Mul(back))
			if rest < alikeRest && math.Abs(slope-1) < alikeSlope {
				out[i].Alike, out[j].Alike = true, true
			}
		}
	}
}

// correlateTones tells of each registered plate how its densities go with the key's:
// their correlation. Sets of real separations had 0.43 and more where both are negatives or
// both positives (figures of our own); of a negative and a positive it is negative.
func correlateTones(pyramids [3]*pyramid, out *[3]Plate, key int) {
	for i := range out {
		if i == key || out[i].Confidence < reached {
			continue
		}
		x, y := densitiesOfBoth(pyramids[key], pyramids[i], out[i].Matrix, nil)
		var n, sx, sy, xx, xy, yy float64
		for k, v := range x {
			n, sx, sy = n+1, sx+v, sy+y[k]
			xx, xy, yy = xx+v*v, xy+v*y[k], yy+y[k]*y[k]
		}
		if d := (xx*n - sx*sx) * (yy*n - sy*sy); d > 0 {
			out[i].Tones = (xy*n - sx*sy) / math.Sqrt(d)
		}
	}
}

// densitiesOfBoth are the densities of two plates where both show the picture, each the mean
// of a small square of a reduced plane, in which neither grain nor how a pixel was drawn
// from its neighbours counts; m takes pixels of a to b's. where, when set, says at which pixels
// of a they are wanted. They are nil where that is hardly anywhere.
func densitiesOfBoth(a, b *pyramid, m affine.Matrix, where func(x, y float64) bool) (x, y []float64) {
	const side, square, least = 300, 3, 100
	la, lb := a.levelFor(side), b.levelFor(side)
	pa, pb, between := a.levels[la], b.levels[lb], affine.ToLevel(lb).Mul(m).Mul(affine.FromLevel(la))
	full := affine.FromLevel(la)
	for v := square / 2; v < pa.H-square/2; v += square {
		for u := square / 2; u < pa.W-square/2; u += square {
			fx, fy := full.Apply(float64(u), float64(v))
			gx, gy := m.Apply(fx, fy)
			if !a.has(fx, fy) || !b.has(gx, gy) || where != nil && !where(fx, fy) {
				continue
			}
			var sumA, sumB float64
			for j := v - square/2; j <= v+square/2; j++ {
				for i := u - square/2; i <= u+square/2; i++ {
					px, py := between.Apply(float64(i), float64(j))
					sumA, sumB = sumA+float64(pa.At(i, j)), sumB+pb.Bilinear(px, py)
				}
			}
			x, y = append(x, sumA/(square*square)), append(y, sumB/(square*square))
		}
	}
	if len(x) < least {
		return nil, nil
	}
	return x, y
}

// followsLine fits a straight line to the densities of b over those of a, whose pixels
// m takes to b's. It returns what the line leaves (a median) as a share of how a's
// densities spread, and its slope. Places far off the line, damage and what moved, are left out of the fit.
func followsLine(a, b *pyramid, m affine.Matrix) (rest, slope float64) {
	x, y := densitiesOfBoth(a, b, m, nil)
	if x == nil {
		return math.Inf(1), 0
	}
	mx, my := median(x), median(y)
	spread, off := make([]float64, len(x)), make([]float64, len(x))
	for i := range x {
		x[i] -= mx
		y[i] -= my
		spread[i] = math.Abs(x[i])
	}
	const rounds, within = 4, 4.5 // of the fit; medians of what the line leaves: 3 σ of normal noise
	limit := math.Inf(1)
	for range rounds {
		var xx, xy float64
		for i := range x {
			if off[i] <= limit {
				xx += x[i] * x[i]
				xy += x[i] * y[i]
			}
		}
		slope = xy / xx
		for i := range x {
			off[i] = math.Abs(y[i] - slope*x[i])
		}
		limit = within * median(off)
	}
	return median(off) / median(spread), slope
}

// median is the middle value, the upper of two.
func median(v []float64) float64 {
	s := slices.Clone(v)
	slices.Sort(s)
	return s[len(s)/2]
}

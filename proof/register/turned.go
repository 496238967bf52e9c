package register

import (
	"cmp"
	"context"
	"math"
	"slices"

	"threeply/proof/affine"
)

// What turned tries, each in all quarter turns, mirrored and not. verdict.FoundWords says
// it to the user.
var (
	turns  = []float64{-15, -10, -5, 0, 5, 10, 15}              // degrees, off each quarter turn
	scales = []float64{0.8, 0.862, 0.928, 1, 1.077, 1.16, 1.25} // each 7.7 % more than the one before
)

// turned tries mirrored and turned plates of other scales: all of them by plain
// correlation, the likeliest again by all that counts. It returns the best of those.
func (p *pair) turned(ctx context.Context, tell func(float64)) ([]hypothesis, error) {
	const again, most = 24, 10
	sizes := scales
	if r := p.ratio(); r < 0.78 || r > 1.28 { // the plates may have been scanned at two resolutions
		sizes = append(slices.Clone(scales), 0.94*r, r, 1.06*r)
	}
	best := func(list []hypothesis, n int) []hypothesis {
		slices.SortStableFunc(list, func(a, b hypothesis) int { return cmp.Compare(b.score, a.score) })
		return list[:min(len(list), n)]
	}
	var rough []hypothesis
	for i, turn := range turns {
		for _, s := range sizes {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			rough = append(rough, p.eightWays(affine.Compose(affine.Parts{Turn: turn, StretchX: s, StretchY: s}, 0, 0))...)
		}
		tell(0.8 * float64(i+1) / float64(len(turns)))
	}
	var hypotheses []hypothesis
	for _, h := range best(rough, again) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		hypotheses = append(hypotheses, p.wide.bestShifts(p.other, h.m, 1)...)
	}
	tell(1)
	return best(hypotheses, most), nil
}

// turnedWay is a quarter turn, of a picture that was mirrored top to bottom or not: the
// place (x, y) comes to (xx·x + xy·y, yx·x + yy·y).
type turnedWay struct {
	xx, xy, yx, yy int
	mirrored       bool
}

// turnedWays are all eight.
func turnedWays() []turnedWay {
	var out []turnedWay
	for _, down := range [2]int{1, -1} {
		cos, sin := 1, 0
		for range 4 {
			out = append(out, turnedWay{cos, -sin * down, sin, cos * down, down < 0})
			cos, sin = -sin, cos
		}
	}
	return out
}

// eightWays lays the other plate over the key in all quarter turns, mirrored and not, each
// by the shift at which plain correlation is largest. m, from the key's pixels to the
// plate's, says how it lies besides. All of them share one edge field: its spectrum turns
// with it.
func (p *pair) eightWays(m affine.Matrix) []hypothesis {
	t, n := p.wide, p.wide.f.n
	side := max(t.w, t.h)
	middle := float64(side-1) / 2
	lay := m.Mul(t.full) // pixel of the field → of the plate, middle on middle
	x, y := lay.Apply(middle, middle)
	a, k := p.other.area, p.key.area
	lay = affine.Translate((a[0]+a[2])/2-x, (a[1]+a[3])/2-y).Mul(lay)
	q, _ := t.field(p.other, lay, side, side)
	spectrum, product := t.transform(q), make([]complex64, n*n)
	keyX, keyY := t.small.Apply((k[0]+k[2])/2, (k[1]+k[3])/2)
	var out []hypothesis
	for _, w := range turnedWays() {
		w.multiply(product, t.key, spectrum, n)
		t.f.rows(product, n, n)
		at, score := 0, real(product[0])
		for i, v := range product {
			if real(v) > score {
				at, score = i, real(v)
			}
		}
		// The shift is known but for whole lengths of the transform: it is the one that
		// leaves the middles nearest to each other.
		nearest := func(at int, from float64) float64 {
			return float64(at) + float64(n)*math.Round((from-float64(at))/float64(n))
		}
		turn := affine.Matrix{float64(w.xx), float64(w.xy), 0, float64(w.yx), float64(w.yy), 0}
		dx := nearest(at%n, float64(w.xx+w.yx)*middle-keyX)
		dy := nearest(at/n, float64(w.xy+w.yy)*middle-keyY)
		out = append(out, hypothesis{lay.Mul(turn).Mul(affine.Translate(dx, dy)).Mul(t.small), float64(score)})
	}
	return out
}

// multiply fills product with what correlate transforms back, of a key's spectrum and that
// of a field of n × n which is turned so. A field F seen so is F(Q·u), its spectrum that of F at
// Q·k; its vectors of twice an edge's angle change sign with each quarter turn, and are
// mirrored with the picture.
func (w turnedWay) multiply(product, key, spectrum []complex64, n int) {
	sign := float32(1)
	if w.xx == 0 {
		sign = -1
	}
	for x := range n { // spectra are transposed
		for y := range n {
			fx, fy := w.xx*x+w.xy*y, w.yx*x+w.yy*y
			if w.mirrored {
				fx, fy = -fx, -fy
			}
			v := spectrum[(fx&(n-1))*n+fy&(n-1)]
			if !w.mirrored {
				v = complex(real(v), -imag(v))
			}
			product[x*n+y] = times(key[x*n+y], complex(sign*real(v), sign*imag(v)))
		}
	}
}

package tone

import (
	"fmt"
	"math"
)

// Knot is one measured point of a film's curve.
type Knot struct {
	Density  float64 `json:"density"`
	Straight float64 `json:"straight"` // density that the straight line has at the same exposure
}

// Bend is how a film parts from its straight line, by measured points: between
// them a cubic that keeps rising (F. N. Fritsch and J. Butland, SIAM J. Sci.
// Stat. Comput. 5, 1984, 300), beyond them a straight line with the slope
// between the last and the last but two, so that the noise of one does little. The zero Bend changes nothing. Knots stand at its beginning, in
// rising order, and zeros fill the rest: a grey scale of a dozen steps with the
// film's own base has room. Bends compare with ==.
type Bend [16]Knot

// BendOf makes a bend of knots in rising order. It returns an error where they
// are fewer than two, too many, or do not rise both ways.
func BendOf(knots []Knot) (Bend, error) {
	if len(knots) < 2 || len(knots) > len(Bend{}) {
		return Bend{}, fmt.Errorf("a bend of %d points: it takes 2 to %d", len(knots), len(Bend{}))
	}
	for i, k := range knots {
		if math.IsNaN(k.Density) || math.IsNaN(k.Straight) || math.Abs(k.Straight) > 100 || math.Abs(k.Density) > 100 {
			return Bend{}, fmt.Errorf("a bend through density %g at %g", k.Density, k.Straight)
		}
		if i > 0 && (k.Density-knots[i-1].Density < leastApart || k.Straight-knots[i-1].Straight < leastApart) {
			return Bend{}, fmt.Errorf("a bend that does not rise from density %.4f to %.4f", knots[i-1].Density, k.Density)
		}
	}
	if last := knots[len(knots)-1].Density; last <= 0 {
		return Bend{}, fmt.Errorf("a bend that ends at density %g", last)
	}
	var b Bend
	copy(b[:], knots)
	return b, nil
}

// Check returns an error where b is not as BendOf makes them.
func (b Bend) Check() error {
	if b == (Bend{}) {
		return nil
	}
	made, err := BendOf(b.Knots())
	if err == nil && made != b {
		err = fmt.Errorf("a bend whose points do not rise")
	}
	return err
}

// leastApart is how far knots must lie apart, in density, either way: a curve
// steeper than any film would be the noise of the scan.
const leastApart = 1e-3

// Knots returns the points, none for the straight line.
func (b Bend) Knots() []Knot { return b[:b.len()] }

func (b *Bend) len() int {
	n := 1
	for n < len(b) && b[n].Density > b[n-1].Density {
		n++
	}
	if n < 2 {
		return 0
	}
	return n
}

// Straight returns the density that the straight line has where the film has
// density d. It rises everywhere.
func (b Bend) Straight(d float64) float64 {
	return b.through(d, func(k Knot) (x, y float64) { return k.Density, k.Straight })
}

// Density is the inverse of Straight, to 1e-9 in density.
func (b Bend) Density(straight float64) float64 {
	n := b.len()
	if n == 0 {
		return straight
	}
	first, last := b[0], b[n-1]
	if straight <= first.Straight || straight >= last.Straight {
		return b.through(straight, func(k Knot) (x, y float64) { return k.Straight, k.Density })
	}
	lo, hi := first.Density, last.Density
	for hi-lo > 1e-9 {
		if mid := (lo + hi) / 2; b.Straight(mid) < straight {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// through follows the knots from one of their sides to the other.
func (b Bend) through(x float64, of func(Knot) (x, y float64)) float64 {
	n := b.len()
	if n == 0 {
		return x
	}
	at := func(i int) (float64, float64) { return of(b[i]) }
	between := func(i, j int) float64 {
		x0, y0 := at(i)
		x1, y1 := at(j)
		return (y1 - y0) / (x1 - x0)
	}
	secant := func(i int) float64 { return between(i, i+1) }
	last := n - 1
	if x0, y0 := at(0); x <= x0 {
		return y0 + between(0, min(2, last))*(x-x0)
	}
	if x1, y1 := at(last); x >= x1 {
		return y1 + between(max(last-2, 0), last)*(x-x1)
	}
	i := 0
	for next, _ := at(i + 1); next < x; next, _ = at(i + 1) {
		i++
	}
	slope := func(k int) float64 { // at knot k
		switch k {
		case 0:
			return secant(0)
		case last:
			return secant(last - 1)
		}
		left, _ := at(k - 1)
		here, _ := at(k)
		right, _ := at(k + 1)
		// Butland's mean, weighted for knots that are not evenly spaced.
		a := (1 + (right-here)/(right-left)) / 3
		s, t := secant(k-1), secant(k)
		return s * t / (a*t + (1-a)*s)
	}
	x0, y0 := at(i)
	x1, y1 := at(i + 1)
	w := x1 - x0
	u := (x - x0) / w
	m0, m1 := slope(i)*w, slope(i+1)*w
	h := y1 - y0
	return y0 + u*(m0+u*((3*h-2*m0-m1)+u*(m0+m1-2*h)))
}

package resample

import (
	"math"

	"threeply/proof/plane"
)

// mostShrunk bounds how far a Sampler's kernel is widened: below a 64th of its size a
// picture is a thumbnail, for which it is narrow enough.
const mostShrunk = 64

// Sampler reads a plane at any place, for pictures that are drawn row by row. Its
// kernel is Lanczos's of three lobes, widened where the picture is drawn smaller, so that
// fine grain does not alias. It may be used by several goroutines. The plane's rows may
// come and go: where it is read, those that Reach tells must be there.
type Sampler struct {
	plane *plane.Plane
	exact *[fractions + 1][2 * lobe]float32 // the kernel of its own size; nil for a wider one
	taps  int                               // neighbours of the wider one along each axis
	table []float32                         // fractions + 1 rows of taps
}

// NewSampler makes a sampler for pictures of which one pixel covers so many of the
// plane's along each axis: above 1 where they are smaller than the plane.
func NewSampler(p *plane.Plane, shrunk float64) *Sampler {
	reach := Reach(shrunk)
	if reach == lobe {
		return &Sampler{plane: p, exact: lanczos()}
	}
	s := &Sampler{plane: p, taps: 2 * reach}
	shrunk = min(shrunk, mostShrunk)
	s.table = make([]float32, (fractions+1)*s.taps)
	weights := make([]float64, s.taps)
	for f := range fractions + 1 {
		sum := 0.0
		for k := range weights {
			x := (float64(f)/fractions - float64(k-reach+1)) / shrunk
			weights[k] = 0
			if math.Abs(x) < 3 {
				weights[k] = sinc(x) * sinc(x/3)
			}
			sum += weights[k]
		}
		for k, v := range weights {
			s.table[f*s.taps+k] = float32(v / sum)
		}
	}
	return s
}

// Reach is how many rows and columns of the plane, before a place and after it, count with it
// in pictures that are shrunk so far.
func Reach(shrunk float64) int {
	if !(shrunk > 1.1) {
		return lobe
	}
	return int(math.Ceil(lobe * min(shrunk, mostShrunk)))
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}

// Reaches tells whether the plane reaches to (x, y).
func (s *Sampler) Reaches(x, y float64) bool {
	return x >= -0.5 && y >= -0.5 && x <= float64(s.plane.W)-0.5 && y <= float64(s.plane.H)-0.5
}

// At is the code at (x, y); ok is false where the plane does not reach.
func (s *Sampler) At(x, y float64) (code uint16, ok bool) {
	if !s.Reaches(x, y) {
		return 0, false
	}
	p := s.plane
	if s.exact != nil {
		return sample(p, s.exact, x, y), true
	}
	fx, fy := math.Floor(x), math.Floor(y)
	wx, wy := s.row(x-fx), s.row(y-fy)
	x0, y0 := int(fx)-s.taps/2+1, int(fy)-s.taps/2+1
	inside := x0 >= 0 && x0+s.taps <= p.W
	var sum float32
	for j, k := range wy {
		row := p.Row(min(max(y0+j, 0), p.H-1))
		var across float32
		if inside {
			for i, c := range row[x0 : x0+s.taps] {
				across += wx[i] * float32(c)
			}
		} else {
			for i, w := range wx {
				across += w * float32(row[min(max(x0+i, 0), p.W-1)])
			}
		}
		sum += k * across
	}
	return uint16(min(max(sum+0.5, 0), 65535)), true
}

func (s *Sampler) row(fraction float64) []float32 {
	at := int(fraction*fractions+0.5) * s.taps
	return s.table[at : at+s.taps]
}

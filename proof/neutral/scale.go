package neutral

import (
	"errors"
	"fmt"
	"math"

	"threeply/proof/overlay"
)

// Scale is a grey scale that lies in the scene, along a line on the key.
type Scale struct {
	X0    float64 `json:"x0"` // where the line begins, key pixels: within the first step
	Y0    float64 `json:"y0"`
	X1    float64 `json:"x1"` // and ends: within the last
	Y1    float64 `json:"y1"`
	Steps []Grey  `json:"steps"` // along the line, light to dark or dark to light
}

// leastSteps is the fewest steps of a scale.
const leastSteps = 3

// ErrNoScale is returned where a line shows no grey scale.
var ErrNoScale = errors.New("no grey scale lies along this line: draw it along the middle of the scale, from its first step to its last")

// Along finds the steps of a grey scale along a line that was drawn from
// (x0, y0) to (x1, y1) in key pixels, at any angle. The line may begin and end
// beyond the scale or within it. Steps that a plate's scan clips stand in the
// scale as long as one of the plates tells them apart. The error says that a
// point lies off the key, or is ErrNoScale.
func Along(p *overlay.Plates, x0, y0, x1, y1 float64) (Scale, error) {
	return along(p, x0, y0, x1, y1, mostSamples, leastSteps)
}

// along is Along with at most so many samples of the line. A scale of fewer than
// least steps is none: its greys are not read.
func along(p *overlay.Plates, x0, y0, x1, y1 float64, samples, least int) (Scale, error) {
	w, h := p.Size()
	for _, at := range [2][2]float64{{x0, y0}, {x1, y1}} {
		if _, ok := p.Density(p.Key, at[0], at[1]); !ok {
			return Scale{}, fmt.Errorf("the line's end at %g,%g lies off the picture of %d × %d pixels", at[0], at[1], w, h)
		}
	}
	l := profileOf(p, x0, y0, x1, y1, samples)
	if l == nil {
		return Scale{}, ErrNoScale
	}
	run := l.staircase(l.even(l.segments()))
	if len(run) < max(least, leastSteps) {
		return Scale{}, ErrNoScale
	}
	var s Scale
	for _, seg := range run {
		x, y := l.place(seg.middle())
		g, err := read(p, x, y, 0.3*float64(seg.to-seg.from)*l.step)
		if err != nil {
			return Scale{}, err
		}
		s.Steps = append(s.Steps, g)
	}
	s.X0, s.Y0 = s.Steps[0].X, s.Steps[0].Y
	s.X1, s.Y1 = s.Steps[len(run)-1].X, s.Steps[len(run)-1].Y
	return s, nil
}

// profile is what the plates hold along a line.
type profile struct {
	x, y, dx, dy float64 // its beginning, and from one sample to the next
	step         float64 // length of that, key pixels
	d            [3][]float64
	sign         [3]float64 // of density against that of the key along the line: a positive runs against a negative
	key          int
}

// Bounds of a profile: samples, and half the width of the band whose median is
// a sample, as a share of the length and in key pixels.
const (
	mostSamples  = 480
	leastSamples = 24
	bandShare    = 1.0 / 80
	widestBand   = 10.0
)

// profileOf samples the line; nil where it is too short, or leaves a plate.
func profileOf(p *overlay.Plates, x0, y0, x1, y1 float64, samples int) *profile {
	length := math.Hypot(x1-x0, y1-y0)
	n := min(int(length)+1, samples)
	if n < leastSamples {
		return nil
	}
	l := &profile{x: x0, y: y0, dx: (x1 - x0) / float64(n-1), dy: (y1 - y0) / float64(n-1), key: p.Key}
	l.step = math.Hypot(l.dx, l.dy)
	ax, ay := -l.dy/l.step, l.dx/l.step // across
	r := math.Round(min(max(bandShare*length, 1), widestBand))
	var band []float64
	for i := range l.d {
		for k := range n {
			x, y := l.place(float64(k))
			band = band[:0]
			for a := -r; a <= r; a++ {
				if d, ok := p.Density(i, x+a*ax, y+a*ay); ok {
					band = append(band, d)
				}
			}
			if len(band) == 0 {
				return nil
			}
			m, _ := middle(band)
			l.d[i] = append(l.d[i], m)
		}
	}
	for i := range l.d {
		l.sign[i] = 1
		if covariance(l.d[i], l.d[p.Key]) < 0 {
			l.sign[i] = -1
		}
	}
	return l
}

// place is the key pixel of a sample.
func (l *profile) place(k float64) (x, y float64) { return l.x + k*l.dx, l.y + k*l.dy }

func covariance(a, b []float64) float64 {
	ma, mb, sum := mean(a), mean(b), 0.0
	for i := range a {
		sum += (a[i] - ma) * (b[i] - mb)
	}
	return sum
}

package neutral

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/overlay"
)

// Grey is a place of the scene that is taken for neutral.
type Grey struct {
	X       float64    `json:"x"`
	Y       float64    `json:"y"`
	Radius  float64    `json:"radius"`  // of the disc that was read, key pixels
	Density [3]float64 `json:"density"` // median of the disc
	Error   [3]float64 `json:"error"`   // standard error of that median, from the spread of the pixels
	Clipped [3]bool    `json:"clipped"` // the plate's scan is at its clear or black limit here
	Uneven  bool       `json:"uneven"`  // even the smallest disc lies on an edge or on texture
}

// The discs that are tried, largest first, in pixels of a key of discSide, and
// how evenly a disc must lie: its eight sectors may differ by discEven in
// density, or by four standard errors.
const (
	discSide = 1760
	discEven = 0.02
)

var discs = [...]float64{20, 14, 10, 7, 5, 3.5, 2.5}

// Read reads the grey around (x, y): the largest disc of those tried that lies
// evenly in all three plates. The error says that the place is off the key or
// off a plate.
func Read(p *overlay.Plates, x, y float64) (Grey, error) {
	return read(p, x, y, math.Inf(1))
}

// read is Read with no disc larger than most.
func read(p *overlay.Plates, x, y, most float64) (Grey, error) {
	w, h := p.Size()
	if _, ok := p.Density(p.Key, x, y); !ok {
		return Grey{}, fmt.Errorf("the grey at %g,%g lies off the picture of %d × %d pixels", x, y, w, h)
	}
	for i := range 3 {
		if _, ok := p.Density(i, x, y); !ok {
			return Grey{}, fmt.Errorf("the grey at %g,%g lies beyond the edge of the %s plate", x, y, filter.Filter(i))
		}
	}
	k := float64(max(w, h)) / discSide
	var g Grey
	before := 0.0
	for _, r := range discs {
		if r = max(min(r*k, most), 1.5); r == before { // it was tried already
			continue
		}
		before = r
		if g = disc(p, x, y, r); !g.Uneven {
			return g, nil
		}
	}
	for i := range 3 { // the smallest, as it is
		g.take(i, sectorsOf(p, i, x, y, before))
	}
	return g, nil
}

// disc reads one disc. Of one that is uneven nothing else is read.
func disc(p *overlay.Plates, x, y, r float64) Grey {
	g := Grey{X: x, Y: y, Radius: r}
	var all [3]sectors
	for i := range all {
		all[i] = sectorsOf(p, i, x, y, r)
		s, grain := all[i].medians()
		if len(s) > 0 && slices.Max(s)-slices.Min(s) > max(discEven, 4*medianError(grain, all[i].count()/8)) {
			g.Uneven = true
			return g
		}
	}
	for i, s := range all {
		g.take(i, s)
	}
	return g
}

// take notes what plate i holds in the disc.
func (g *Grey) take(i int, s sectors) {
	all := s.all()
	clipped := 0
	for _, d := range all {
		if density.Clipped(density.Code(d)) {
			clipped++
		}
	}
	g.Clipped[i] = 10*clipped > len(all)
	var spread float64
	g.Density[i], spread = middle(all)
	g.Error[i] = medianError(spread, len(all))
}

// sectors are the densities of a plate in a disc: in each eighth of it, and in its middle,
// which belongs to none.
type sectors struct {
	eighth [8][]float64
	centre []float64
}

// sectorsOf reads plate i in a disc.
func sectorsOf(p *overlay.Plates, i int, x, y, r float64) (s sectors) {
	n := int(math.Ceil(r))
	each := int(r*r/2) + n + 1 // pixels of an eighth: πr²/8, and the line at its edge
	room := make([]float64, 8*each)
	for k := range s.eighth {
		s.eighth[k] = room[k*each : k*each : (k+1)*each]
	}
	for dy := -n; dy <= n; dy++ {
		for dx := -n; dx <= n; dx++ {
			if float64(dx*dx+dy*dy) > r*r {
				continue
			}
			d, ok := p.Density(i, x+float64(dx), y+float64(dy))
			switch {
			case !ok:
			case dx == 0 && dy == 0:
				s.centre = []float64{d}
			default:
				k := eighthOf(dx, dy)
				s.eighth[k] = append(s.eighth[k], d)
			}
		}
	}
	return s
}

// eighthOf is the eighth of a disc in which (dx, dy) lies, not its middle: counted by the angle
// from -180° on, each with the line that it begins at; 180° belongs to the last.
func eighthOf(dx, dy int) int {
	across, down := max(dx, -dx), max(dy, -dy)
	switch {
	case dy < 0 && dx < 0 && down < across:
		return 0
	case dy < 0 && dx < 0:
		return 1
	case dy < 0 && down > across:
		return 2
	case dy < 0:
		return 3
	case dx > 0 && down < across:
		return 4
	case dx > 0:
		return 5
	case down > across:
		return 6
	}
	return 7
}

func (s *sectors) count() int {
	n := len(s.centre)
	for _, e := range s.eighth {
		n += len(e)
	}
	return n
}

// all are the densities of the whole disc.
func (s *sectors) all() []float64 {
	return slices.Concat(s.centre, s.eighth[0], s.eighth[1], s.eighth[2], s.eighth[3], s.eighth[4], s.eighth[5], s.eighth[6], s.eighth[7])
}

// medians returns the median density of each eighth, and how pixels spread within an
// eighth.
func (s *sectors) medians() (medians []float64, grain float64) {
	var spreads []float64
	for _, e := range s.eighth {
		if len(e) > 0 {
			m, s := middle(e)
			medians, spreads = append(medians, m), append(spreads, s)
		}
	}
	grain, _ = middle(spreads)
	return medians, grain
}

// medianError is the standard error of the median of n pixels. The grain of
// neighbours is taken to be one in patches of four.
func medianError(spread float64, n int) float64 {
	const medianLoss, oneGrain = 1.25, 4
	return medianLoss * spread / math.Sqrt(max(float64(n)/oneGrain, 1))
}

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
	for _, r := range discs {
		g = disc(p, x, y, max(min(r*k, most), 1.5))
		if !g.Uneven {
			break
		}
	}
	return g, nil
}

// disc reads one disc.
func disc(p *overlay.Plates, x, y, r float64) Grey {
	g := Grey{X: x, Y: y, Radius: r}
	for i := range 3 {
		all := within(p, i, x, y, r)
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
		s, grain := sectors(p, i, x, y, r)
		if len(s) > 0 && slices.Max(s)-slices.Min(s) > max(discEven, 4*medianError(grain, len(all)/8)) {
			g.Uneven = true
		}
	}
	return g
}

// within returns the densities of plate i in a disc.
func within(p *overlay.Plates, i int, x, y, r float64) []float64 {
	var all []float64
	n := math.Ceil(r)
	for dy := -n; dy <= n; dy++ {
		for dx := -n; dx <= n; dx++ {
			if d, ok := p.Density(i, x+dx, y+dy); ok && math.Hypot(dx, dy) <= r {
				all = append(all, d)
			}
		}
	}
	return all
}

// sectors returns the median density of each eighth of a disc of plate i, and
// how pixels spread within an eighth.
func sectors(p *overlay.Plates, i int, x, y, r float64) (medians []float64, grain float64) {
	var eighth [8][]float64
	n := math.Ceil(r)
	for dy := -n; dy <= n; dy++ {
		for dx := -n; dx <= n; dx++ {
			if d, ok := p.Density(i, x+dx, y+dy); ok && math.Hypot(dx, dy) <= r && (dx != 0 || dy != 0) {
				s := min(int((math.Atan2(dy, dx)/math.Pi+1)*4), 7)
				eighth[s] = append(eighth[s], d)
			}
		}
	}
	var spreads []float64
	for _, e := range eighth {
		if len(e) > 0 {
			m, s := middle(e)
			medians, spreads = append(medians, m), append(spreads, s)
		}
	}
	grain, _ = middle(spreads)
	return medians, grain
}

// middle returns the median and the standard deviation of a normal spread that
// has the same median distance from it. It sorts v.
func middle(v []float64) (median, spread float64) {
	if len(v) == 0 {
		return 0, 0
	}
	slices.Sort(v)
	median = sortedMiddle(v)
	off := make([]float64, len(v))
	for i, x := range v {
		off[i] = math.Abs(x - median)
	}
	slices.Sort(off)
	const normal = 1.4826 // standard deviation over median absolute deviation
	return median, normal * sortedMiddle(off)
}

func sortedMiddle(v []float64) float64 {
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}

// medianError is the standard error of the median of n pixels. The grain of
// neighbours is taken to be one in patches of four.
func medianError(spread float64, n int) float64 {
	const medianLoss, oneGrain = 1.25, 4
	return medianLoss * spread / math.Sqrt(max(float64(n)/oneGrain, 1))
}

package plate

import (
	"math"
	"slices"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// Finding the borders. Tones are the cube root of transmittance on a scale of
// 0 … 255, even to the eye as L* is, so that neither the noise of a black frame
// nor that of a clear margin drowns the picture.
const (
	areaSide     = 640  // longer side of the plane that is looked at
	widestBorder = 0.20 // share of the side; real plates show 4 to 15 %
	surelyNarrow = 0.10 // up to here a straight step in tone is enough
	edgeStep     = 12   // least step in tone across an edge
	edgeAgree    = 0.70 // share of the edge's length that must show it
	frame        = 0.01 // the cut goes this much further in: soft edges
)

// tones is a reduced plane in even tones.
type tones struct {
	w, h  int
	scale int // pixels of the plane a pixel of the tones
	pix   []uint8
}

func tonesOf(p *plane.Plane) *tones {
	scale := 1
	for max(p.W, p.H) > areaSide {
		p = p.Half()
		scale *= 2
	}
	t := &tones{w: p.W, h: p.H, scale: scale, pix: make([]uint8, len(p.Pix))}
	for i, code := range p.Pix {
		t.pix[i] = toneOfCode[code>>4]
	}
	return t
}

// toneOfCode holds the tone of the density codes 16·i to 16·i + 15.
var toneOfCode = func() (table [4096]uint8) {
	for i := range table {
		table[i] = uint8(math.Round(255 * math.Pow(10, -density.Of(uint16(16*i))/3)))
	}
	return table
}()

// densityOfTone is the inverse, at most 7.2 for tone 0.
func densityOfTone(tone uint8) float64 { return toneDensities[tone] }

var toneDensities = func() (table [256]float64) {
	for i := range table {
		table[i] = 3 * math.Log10(255/max(float64(i), 1))
	}
	return table
}()

// side names an edge of the picture.
type side int

const (
	left side = iota
	top
	right
	bottom
)

// depth is the number of lines from the side to the one across.
func (t *tones) depth(s side) int {
	if s == left || s == right {
		return t.w
	}
	return t.h
}

// line returns the middle 60 % of the line that lies i lines inside the side.
func (t *tones) line(s side, i int) []uint8 {
	switch s {
	case right:
		i = t.w - 1 - i
	case bottom:
		i = t.h - 1 - i
	}
	if s == top || s == bottom {
		return t.pix[i*t.w+t.w/5 : i*t.w+t.w-t.w/5]
	}
	out := make([]uint8, 0, t.h)
	for y := t.h / 5; y < t.h-t.h/5; y++ {
		out = append(out, t.pix[y*t.w+i])
	}
	return out
}

// middle returns the sorted tones of the middle quarter of the picture.
func (t *tones) middle() []uint8 {
	var out []uint8
	for y := t.h / 4; y < t.h-t.h/4; y++ {
		out = append(out, t.pix[y*t.w+t.w/4:y*t.w+t.w-t.w/4]...)
	}
	slices.Sort(out)
	return out
}

func quantile[T any](sorted []T, q float64) T {
	return sorted[min(int(q*float64(len(sorted))), len(sorted)-1)]
}

// border is what was found on one side.
type border struct {
	lines int   // that belong to it, 0 for none
	step  int   // lines over which its edge is soft
	tone  uint8 // of the line next to the picture
}

// pictureArea finds the picture of a plane of w × h pixels inside black frames,
// clear rebates and white scan margins: x0, y0, x1, y1 in pixels of the plane,
// the last two outside. A border ends at the
// innermost straight step in tone within the outer fifth that runs along most
// of the side; what lies outside must be even along the side, and, beyond a
// tenth, lighter or darker than nearly all of the picture. A plate without
// borders gives all of itself. It takes a straight horizon close to the top
// for a border only where the sky is as even as a rebate.
func (t *tones) pictureArea(w, h int) ([4]int, [4]border) {
	whole := [4]int{0, 0, w, h}
	var found [4]border
	if min(t.w, t.h) < 40 {
		return whole, found
	}
	middle := t.middle()
	area := whole
	for s := left; s <= bottom; s++ {
		found[s] = t.border(s, middle)
		if found[s].lines == 0 {
			continue
		}
		cut := (found[s].lines + max(int(frame*float64(t.depth(s))), 1)) * t.scale
		if s == right || s == bottom {
			cut = whole[s] - cut
		}
		area[s] = cut
	}
	return area, found
}

func (t *tones) border(s side, middle []uint8) border {
	n := t.depth(s)
	step := max(n/120, 2)
	spread := float64(quantile(middle, 0.9)) - float64(quantile(middle, 0.1))
	dark, light := quantile(middle, 0.02), quantile(middle, 0.98)
	diff := make([]int, 0, max(t.w, t.h))
	for i := int(widestBorder * float64(n)); i >= step; i-- {
		outer, inner := t.line(s, i-step), t.line(s, i+step)
		diff = diff[:0]
		for k := range outer {
			diff = append(diff, int(inner[k])-int(outer[k]))
		}
		slices.Sort(diff)
		lo, hi := quantile(diff, 1-edgeAgree), quantile(diff, edgeAgree)
		if lo < edgeStep && hi > -edgeStep {
			continue
		}
		slices.Sort(outer)
		tone := quantile(outer, 0.5)
		even := float64(quantile(outer, 0.9))-float64(quantile(outer, 0.1)) < max(0.6*spread, 2*edgeStep)
		if !even || (float64(i) > surelyNarrow*float64(n) && tone > dark && tone < light) {
			continue
		}
		return border{lines: i + step, step: step, tone: tone}
	}
	return border{}
}

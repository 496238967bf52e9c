package plate

import (
	"math"
	"slices"

	"threeply/proof/density"
	"threeply/proof/plane"
)

// How borders are found. The values were chosen on real plates; TestAreaOfRealPlates
// and the tests beside it hold them. Shares are of the plane's width for the left and
// right border, of its height for the others.
const (
	areaSide     = 640  // borders are looked for in a plane no longer than this, pixels
	widestBorder = 0.20 // share; the real plates of the tests show 2 to 12 %
	narrowBorder = 0.10 // share; up to this width a straight step in tone is enough
	edgeStep     = 12   // least step across an edge, tones of 0 … 255
	edgeAgree    = 0.70 // share of the edge's length that must show the step
	softEdge     = 0.01 // share that is cut off beyond the border, for edges are soft
)

// tones is a reduced density plane, w × h, as tones: the cube root of transmittance,
// 0 … 255. They are about even to the eye, as L* is, so that neither the noise of a
// black frame nor that of a clear margin drowns the picture.
type tones struct {
	w, h  int
	scale int // pixels of the plane to one pixel of the tones
	pix   []uint8
}

// tonesOf halves a density plane until its longer side is at most areaSide.
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

// densityOfTone is the inverse: D = 3 log10(255/tone), with tone 0 taken as 1, so at
// most 7.2.
func densityOfTone(tone uint8) float64 { return toneDensities[tone] }

var toneDensities = func() (table [256]float64) {
	for i := range table {
		table[i] = 3 * math.Log10(255/max(float64(i), 1))
	}
	return table
}()

// side is an edge of the picture, and the index of its place in an area
// (x0, y0, x1, y1).
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

// quantile is the value of a sorted list that a share q of it lies below.
func quantile[T any](sorted []T, q float64) T {
	return sorted[min(int(q*float64(len(sorted))), len(sorted)-1)]
}

// border is what was found on one side, counted in lines of the tones.
type border struct {
	lines int   // its width, 0 where there is no border
	step  int   // half the width of its soft edge
	tone  uint8 // median of the border just outside the edge
}

// pictureArea finds the picture inside black frames, clear rebates and white scan
// margins. The area is x0, y0, x1, y1 in pixels of the whole plane, w × h, with x1
// and y1 just outside; the borders are given by side.
//
// A border ends at the innermost straight step in tone that lies within the outer
// fifth and runs along most of the side. What lies outside it must be even along the
// side and, where the border is wider than a tenth, lighter or darker than nearly all
// of the picture. A plate without borders is all picture. A straight horizon close to
// the top is mistaken for a border where the sky is as even as a rebate.
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
		cut := (found[s].lines + max(int(softEdge*float64(t.depth(s))), 1)) * t.scale
		if s == right || s == bottom {
			cut = whole[s] - cut
		}
		area[s] = cut
	}
	return area, found
}

// border looks for the border on one side, from the inside out. middle are the sorted
// tones of the middle of the picture.
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
		if !even || (float64(i) > narrowBorder*float64(n) && tone > dark && tone < light) {
			continue
		}
		return border{lines: i + step, step: step, tone: tone}
	}
	return border{}
}

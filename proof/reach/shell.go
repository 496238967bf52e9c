package reach

import (
	"math"

	"threeply/proof/balance"
	"threeply/proof/spectrum"
)

// The resolution of a Shell: steps of hue, and of lightness as Slice gives it.
const (
	Hues   = 120 // 3° each
	Levels = 201 // L* 0, 0.5 … 100

	perLevel = (Levels - 1) / 100 // levels a unit of L*
)

// Shell answers quickly whether a colour can be printed: the largest chroma at
// each hue and lightness, seen from the axis that runs from the paper's own
// colour to the depth. From there the solid shows no folds.
type Shell struct {
	chroma       [Hues][Levels]float64 // less than 0 where there is nothing
	paper, depth spectrum.Lab
}

// Shell tabulates the solid about the grey scale of the same recipe and light.
func (s *Solid) Shell(scale balance.Scale) *Shell {
	h := &Shell{paper: scale.Paper, depth: scale.Depth.Lab}
	for k := range h.chroma {
		for l := range h.chroma[k] {
			h.chroma[k][l] = -1
		}
	}
	type hit struct {
		hue int
		point
	}
	var cut []hit
	for _, t := range s.triangles {
		for i := range t {
			t[i] = h.fromAxis(t[i])
		}
		cut = cut[:0]
		for i := range t {
			s.crossings(t[i], t[(i+1)%3], Hues, func(k int, p point) { cut = append(cut, hit{k, p}) })
		}
		for i, a := range cut {
			for _, b := range cut[:i] {
				if a.hue == b.hue {
					h.chord(a.hue, a.point, b.point)
				}
			}
		}
	}
	return h
}

// chord enters a straight piece of the skin in the half plane of hue k.
func (h *Shell) chord(k int, p, q point) {
	if p.lightness > q.lightness {
		p, q = q, p
	}
	for l := max(0, int(math.Ceil(perLevel*p.lightness))); l < Levels && float64(l) <= perLevel*q.lightness; l++ {
		w := 0.0
		if q.lightness > p.lightness {
			w = (float64(l)/perLevel - p.lightness) / (q.lightness - p.lightness)
		}
		h.chroma[k][l] = max(h.chroma[k][l], p.chroma+w*(q.chroma-p.chroma))
	}
}

// fromAxis takes the axis' own tint at that lightness off a colour.
func (h *Shell) fromAxis(l spectrum.Lab) spectrum.Lab {
	u := 0.0
	if span := h.paper[0] - h.depth[0]; span > 0 {
		u = min(max((l[0]-h.depth[0])/span, 0), 1)
	}
	return spectrum.Lab{
		l[0],
		l[1] - h.depth[1] - u*(h.paper[1]-h.depth[1]),
		l[2] - h.depth[2] - u*(h.paper[2]-h.depth[2]),
	}
}

// Beyond returns by how much the chroma of a colour exceeds what can be printed
// at its hue and lightness: 0 or less within reach. Lighter than the paper or
// darker than the depth, the missing lightness is added. In the darkest tones,
// where the skin is steep, it may be some units out. What is no colour is
// infinitely far.
func (h *Shell) Beyond(l spectrum.Lab) float64 {
	if math.IsNaN(l[0] + l[1] + l[2]) {
		return math.Inf(1)
	}
	missing := max(0, l[0]-h.paper[0], h.depth[0]-l[0])
	l[0] = min(max(l[0], h.depth[0]), max(h.paper[0], h.depth[0]))
	l = h.fromAxis(l)
	chroma := math.Hypot(l[1], l[2])
	hue := math.Atan2(l[2], l[1]) / (2 * math.Pi) * Hues
	if hue < 0 {
		hue += Hues
	}
	k := int(hue)
	wk := hue - float64(k)
	v := min(max(perLevel*l[0], 0), Levels-1)
	i := min(int(v), Levels-2)
	wl := v - float64(i)
	at := func(k int) float64 {
		c := &h.chroma[k%Hues]
		return (1-wl)*max(0, c[i]) + wl*max(0, c[i+1])
	}
	return missing + chroma - ((1-wk)*at(k) + wk*at(k+1))
}

// Slice returns the largest chroma at L* 0, 0.5 … 100 in the half plane of a hue
// angle in degrees, from the axis of the grey scale; -1 where nothing can be
// printed: the outline of the solid in L*C*.
func (h *Shell) Slice(degrees float64) []float64 {
	k := int(math.Round(math.Mod(math.Mod(degrees, 360)+360, 360)/360*Hues)) % Hues
	return append([]float64(nil), h.chroma[k][:]...)
}

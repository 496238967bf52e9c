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
//
// A node holds the largest chroma between its neighbours, so that what is read
// between the nodes is never less than what can be printed: a colour that can be
// printed is not called out of reach, and about a sharp edge of the solid one
// that lies up to 3° of hue or half a unit of L* beyond passes.
type Shell struct {
	chroma       [Hues][Levels]float64 // less than 0 where there is nothing
	lowest       [Hues]float64         // L*, the darkest at each hue
	paper, depth spectrum.Lab
	top          float64 // L* of the lightest colour
}

// Shell tabulates the solid about the grey scale of the same recipe and light.
func (s *Solid) Shell(scale balance.Scale) *Shell {
	h := &Shell{paper: scale.Paper, depth: scale.Depth.Lab, top: scale.Paper[0]}
	for k := range h.chroma {
		h.lowest[k] = h.depth[0]
		for l := range h.chroma[k] {
			h.chroma[k][l] = -1
		}
	}
	for _, t := range s.triangles {
		h.enter(t)
	}
	return h
}

// enter takes a small triangle of the skin for the largest chroma of its corners,
// over all hues and levels that it spans.
func (h *Shell) enter(t [3]spectrum.Lab) {
	var first, least, most float64 // of hue, in steps
	chroma, dark, light := 0.0, math.Inf(1), math.Inf(-1)
	for i, l := range t {
		dark, light = min(dark, l[0]), max(light, l[0])
		l = h.fromAxis(l)
		chroma = max(chroma, math.Hypot(l[1], l[2]))
		hue := math.Atan2(l[2], l[1]) / (2 * math.Pi) * Hues
		if i == 0 {
			first = hue
		}
		by := math.Remainder(hue-first, Hues)
		least, most = min(least, by), max(most, by)
	}
	from, to := int(math.Floor(first+least)), int(math.Ceil(first+most))
	if most-least >= Hues/2 { // about the axis itself
		from, to = 0, Hues-1
	}
	h.top = max(h.top, light)
	low, high := max(int(math.Floor(perLevel*dark)), 0), min(int(math.Ceil(perLevel*light)), Levels-1)
	for k := from; k <= to; k++ {
		n := (k%Hues + Hues) % Hues
		h.lowest[n] = min(h.lowest[n], dark)
		row := &h.chroma[n]
		for l := low; l <= high; l++ {
			row[l] = max(row[l], chroma)
		}
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

// read returns the largest chroma at a lightness and a hue in steps.
func (h *Shell) read(lightness, hue float64) float64 {
	k := int(hue)
	wk := hue - float64(k)
	v := min(max(perLevel*lightness, 0), Levels-1)
	i := min(int(v), Levels-2)
	wl := v - float64(i)
	at := func(k int) float64 {
		c := &h.chroma[k%Hues]
		return (1-wl)*max(0, c[i]) + wl*max(0, c[i+1])
	}
	return (1-wk)*at(k) + wk*at(k+1)
}

// nearest brings a colour onto the shell where it lies beyond: to the lightest or
// the darkest first, then to the largest chroma of its hue. by is how far that is,
// lightness and chroma added, 0 or less within reach.
func (h *Shell) nearest(l spectrum.Lab) (to spectrum.Lab, by float64) {
	off := h.fromAxis(l)
	chroma := math.Hypot(off[1], off[2])
	hue := math.Atan2(off[2], off[1]) / (2 * math.Pi) * Hues
	if hue < 0 {
		hue += Hues
	}
	// Below the depth only colours that are not neutral can be printed, farther
	// down the more chroma they have.
	floor := min(h.lowest[int(hue)%Hues], h.lowest[(int(hue)+1)%Hues])
	if room := h.read(max(l[0], floor), hue); room > 0 && floor < h.depth[0] {
		floor = h.depth[0] - min(2*chroma/room, 1)*(h.depth[0]-floor)
	} else {
		floor = h.depth[0]
	}
	to = l
	to[0] = min(max(l[0], floor), max(h.top, floor))
	room := h.read(to[0], hue)
	by = math.Abs(to[0]-l[0]) + chroma - room
	if chroma > room {
		share := room / chroma
		to[1], to[2] = l[1]-(1-share)*off[1], l[2]-(1-share)*off[2]
	}
	return to, by
}

// Beyond returns by how many units of CIELAB a colour lies beyond what can be
// printed, its missing lightness and the chroma that it has too much at its hue and
// lightness added: 0 or less within reach. What is no colour is infinitely far.
func (h *Shell) Beyond(l spectrum.Lab) float64 {
	if math.IsNaN(l[0] + l[1] + l[2]) {
		return math.Inf(1)
	}
	_, by := h.nearest(l)
	return by
}

// Nearest is the colour that can be printed which Miss measures to.
func (h *Shell) Nearest(l spectrum.Lab) spectrum.Lab {
	to, _ := h.nearest(l)
	return to
}

// Miss is how far a colour lies beyond what can be printed, as CIEDE2000 from
// the shell at the same hue: 0 within reach. Another hue may come nearer.
func (h *Shell) Miss(l spectrum.Lab) float64 {
	if math.IsNaN(l[0] + l[1] + l[2]) {
		return math.Inf(1)
	}
	to, by := h.nearest(l)
	if by <= 0 {
		return 0
	}
	return spectrum.DeltaE00(l, to)
}

// Darkest is the L* of the darkest colour at a step of hue, 0 … Hues-1.
func (h *Shell) Darkest(hue int) float64 { return h.lowest[hue] }

// Lightest is the L* of the lightest colour.
func (h *Shell) Lightest() float64 { return h.top }

// Slice returns the largest chroma at L* 0, 0.5 … 100 in the half plane of a hue
// angle in degrees, from the axis of the grey scale; -1 where nothing can be
// printed: the outline of the solid in L*C*.
func (h *Shell) Slice(degrees float64) []float64 {
	k := int(math.Round(math.Mod(math.Mod(degrees, 360)+360, 360)/360*Hues)) % Hues
	return append([]float64(nil), h.chroma[k][:]...)
}

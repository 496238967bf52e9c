package plate

import "math"

// The evidence is the log odds that a plate is a negative: the sum of clues, each near
// zero where it says nothing, times their weights. The weights come from a logistic
// regression over 24 sets of published separation plates (positives of c. 1905–1915),
// five modern photographs split into channels, and both put through three film curves
// (γ 0.6 to 0.9, base fog 0.1 to 0.3); fogWeight was set by hand afterwards.
// TestPolarityOnRealPlates reports the hits on these same pictures.
const (
	priorWeight   = 0.5 // separations mostly are negatives
	borderWeight  = -1.0
	skewWeight    = -1.0
	skyWeight     = -1.6
	textureWeight = -1.4
	blackWeight   = -1.3
	fogWeight     = 3.0
	leastDoubt    = 0.05 // no guess from the picture alone is surer than 0.95

	// Densities that speak for neither polarity.
	middlingBlack = 1.9 // of the densest part
	middlingFog   = 0.2 // of the thinnest part
)

// guessPolarity tells a negative from a positive, and how surely, 0 … 0.95. t, area and
// around are the tones of the plate, its picture and its borders, h the densities of
// the picture. A plate that spans less than 0.02 in density tells nothing. Six clues
// count:
//
//   - borders: what surrounds the picture is unexposed, clear on a negative
//     and black on a positive;
//   - skew: most of a scene is nearer to its whites than to its blacks in
//     density;
//   - sky: the upper third of a scene is mostly brighter than the lower;
//   - texture: what is bright in a scene is mostly smooth;
//   - black: a positive has a black of density 2 and more, a negative seldom;
//   - fog: base and fog veil even the thinnest part of a negative.
//
// A tone-inverted digital picture without borders is not a film negative and
// misleads it. The weights were fitted on few pictures, which
// TestPolarityOnRealPlates names; so the guess is shown and can be overruled.
func guessPolarity(t *tones, area [4]int, around [4]border, h *histogram) (Polarity, float64) {
	thin, middle, dense := h.quantile(0.02), h.quantile(0.5), h.quantile(0.98)
	spread := dense - thin
	if spread < 0.02 {
		return Negative, 0
	}
	sky, texture := t.scene(area)
	evidence := priorWeight +
		borderWeight*clamp(borderClue(around, thin, dense), 2) +
		skewWeight*(thin+dense-2*middle)/spread +
		skyWeight*clamp(sky/spread, 1) +
		textureWeight*texture +
		blackWeight*clamp(h.quantile(denseQuantile)-middlingBlack, 0.7) +
		fogWeight*clamp(h.quantile(thinQuantile)-middlingFog, 0.25)
	sure := min(math.Abs(math.Tanh(evidence/2)), 1-leastDoubt)
	if evidence > 0 {
		return Negative, sure
	}
	return Positive, sure
}

// clamp holds v within ± limit.
func clamp(v, limit float64) float64 { return min(max(v, -limit), limit) }

// borderClue is the number of borders as dense as the picture's densest part, less
// the number of those as thin as its thinnest; both are densities.
func borderClue(around [4]border, thin, dense float64) float64 {
	const near = 0.1
	n := 0.0
	for _, b := range around {
		switch d := densityOfTone(b.tone); {
		case b.lines == 0:
		case d >= dense-near:
			n++
		case d <= thin+near:
			n--
		}
	}
	return n
}

// scene compares blocks of 8 × 8 tones of the area. sky is how much denser the lower
// third is than the upper, in density. texture is the correlation, -1 … 1, of a
// block's roughness (the logarithm of its mean step between neighbours) with its
// density.
func (t *tones) scene(area [4]int) (sky, texture float64) {
	const block = 8
	x0, y0, x1, y1 := area[0]/t.scale, area[1]/t.scale, area[2]/t.scale, area[3]/t.scale
	var upper, lower mean
	var d, r, dd, rr, dr mean // of density, roughness and their products
	for y := y0; y+block < min(y1, t.h); y += block {
		for x := x0; x+block < min(x1, t.w); x += block {
			density, step := t.block(x, y, block)
			rough := math.Log(step + 0.005)
			switch {
			case 3*(y-y0) < y1-y0:
				upper.add(density)
			case 3*(y-y0) > 2*(y1-y0):
				lower.add(density)
			}
			d.add(density)
			r.add(rough)
			dd.add(density * density)
			rr.add(rough * rough)
			dr.add(density * rough)
		}
	}
	variance := (dd.value() - d.value()*d.value()) * (rr.value() - r.value()*r.value())
	if variance > 1e-12 {
		texture = (dr.value() - d.value()*r.value()) / math.Sqrt(variance)
	}
	return lower.value() - upper.value(), texture
}

// block returns the mean density of the n × n tones from (x, y) and the mean
// step in density to the right and lower neighbours, which must exist.
func (t *tones) block(x, y, n int) (density, step float64) {
	for j := y; j < y+n; j++ {
		for i := x; i < x+n; i++ {
			v := densityOfTone(t.pix[j*t.w+i])
			density += v
			step += math.Abs(densityOfTone(t.pix[j*t.w+i+1])-v) + math.Abs(densityOfTone(t.pix[(j+1)*t.w+i])-v)
		}
	}
	return density / float64(n*n), step / float64(n*n)
}

// mean is the mean of the values added to it, 0 where there are none.
type mean struct {
	sum float64
	n   int
}

func (m *mean) add(v float64)  { m.sum += v; m.n++ }
func (m *mean) value() float64 { return m.sum / float64(max(m.n, 1)) }

// evidence is the log odds, to base e, that s is a negative, from its polarity and how
// sure that is: the inverse of what guessPolarity does last.
func (s *Source) evidence() float64 {
	e := 2 * math.Atanh(min(s.PolaritySure, 1-leastDoubt))
	if s.Polarity == Positive {
		e = -e
	}
	return e
}

// vote gives all plates of the set one polarity, by the mean of their evidence. Where
// two plates contradict each other and both are rather sure, every plate keeps its
// own, and Split is set.
func (s *Set) vote() {
	const ratherSure = 0.8
	evidence, negative, positive := 0.0, false, false
	for i := range s.Sources {
		p := &s.Sources[i]
		evidence += p.evidence() / 3
		if p.PolaritySure > ratherSure {
			negative = negative || p.Polarity == Negative
			positive = positive || p.Polarity == Positive
		}
	}
	if s.Split = negative && positive; s.Split {
		return
	}
	decision := Positive
	if evidence > 0 {
		decision = Negative
	}
	for i := range s.Sources {
		s.Sources[i].SetPolarity(decision)
		s.Sources[i].PolaritySure = math.Abs(math.Tanh(evidence / 2))
	}
}

package picture

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/mask"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/tone"
)

// Relief returns what each layer becomes when the print is made the way w, by printer. It
// goes along the densities of the plate where w is straight, along tones where it is
// tuned.
func (p *Printing) Relief(s *session.State, w relief.Way) [3]relief.Layer {
	var out [3]relief.Layer
	for i := range out {
		printer := pigment.Printer(i)
		r := p.hardens[i]
		wanted := func(u float64) float64 { return p.Scale.Thickness(u)[i] }
		if !w.Straight {
			shaped := func(u float64) float64 { return wanted(w.Shape.Tone(u, i)) }
			out[i] = relief.Tuned(r, r, shaped, w.Stops[i])
			continue
		}
		out[i] = relief.Straight(filmOf(s, printer), r, w.Range, w.Anchor(), wanted, w.Stops[i])
	}
	return out
}

// filmOf is the film of a printer's plate.
func filmOf(s *session.State, printer pigment.Printer) tone.Film {
	return s.Sources[s.SourceOf(printer)].Film
}

// Way is how the print is made: as the session has it, but for what a variant changes.
// A masked print is always tuned, for masks work on tones; so is one without plates.
func (p *Printing) Way(s *session.State) relief.Way {
	w := s.Way
	if s.Masked || s.Sources[0].W == 0 {
		w.Straight = false
	}
	if p.turned != nil {
		w = p.turned(w)
	}
	return w
}

// Curves are the curves of one layer; see render.Layer.
type Curves struct{ Print, Reference, Tone, Thickness *tone.Curve }

// Films is all that curves need of the films of the three plates. It is read once, for it
// stays the same whatever the way of printing.
type Films struct {
	tones           [3]*tone.Tones // by printer
	reference, tone [3]*tone.Curve
}

// ReadFilms reads the films of a session.
func ReadFilms(s *session.State) *Films {
	var f Films
	for i := range f.tones {
		film := filmOf(s, pigment.Printer(i))
		f.tones[i], f.reference[i] = tone.TonesOf(film), tone.ReferenceCurve(film)
		f.tone[i] = f.tones[i].Curve()
	}
	return &f
}

// Curves returns the curves of each printer for the print as it is made, with what the
// wash takes and where the coat is through. Tone and Thickness, which masks work between,
// are always those of a tuned print.
func (p *Printing) Curves(s *session.State) [3]Curves { return p.CurvesOf(s, ReadFilms(s), p.Way(s)) }

// CurvesOf is Curves for a print made the way w from films that ReadFilms has read.
func (p *Printing) CurvesOf(s *session.State, f *Films, w relief.Way) [3]Curves {
	out, layers, tuned := [3]Curves{}, p.Relief(s, w), w
	tuned.Straight = false
	for i, l := range p.Relief(s, tuned) {
		out[i] = Curves{Reference: f.reference[i], Tone: f.tone[i], Thickness: tone.ThicknessCurve(l.Amount)}
		if p.dots != nil {
			growth := s.Setup().Growth()
			area := func(u float64) float64 { // of the tint that holds
				return growth.Print(growth.Film(p.dots.Area(pigment.Printer(i), w.Shape.Tone(u, i))))
			}
			out[i].Thickness, out[i].Print = tone.ThicknessCurve(area), f.tones[i].Print(area)
		} else if w.Straight {
			out[i].Print = tone.AmountCurve(layers[i].Amount)
		} else {
			out[i].Print = f.tones[i].Print(l.Amount)
		}
	}
	return out
}

// Loss is what a layer loses over the picture; see relief.Fate.
type Loss struct {
	Lost    float64 `json:"lost"`    // share of the picture where the wash takes it, 0 … 1
	Blocked float64 `json:"blocked"` // share where the coat is through, 0 … 1

	// The densities of the plate where that happens, from the first to the second; both
	// are equal where it happens nowhere. Where ByTone they are tones of the layer behind
	// its masks, from 0 for the paper to 1 for the depth.
	LostFrom    [2]float64 `json:"lostFrom"`
	BlockedFrom [2]float64 `json:"blockedFrom"`
	ByTone      bool       `json:"byTone,omitempty"`
}

// At is what becomes of the layer at a density of its plate, or at a tone where ByTone.
func (l Loss) At(x float64) relief.Fate {
	switch {
	case within(x, l.LostFrom):
		return relief.Lost
	case within(x, l.BlockedFrom):
		return relief.Blocked
	}
	return relief.Held
}

// Densities are those of the three plates at the same places of a picture, by printer.
type Densities [3][]float64

// SampleDensities reads the plates, in register, at places spread evenly over the picture.
// planes are that level of each source's pyramid, by source.
func (p *Printing) SampleDensities(s *session.State, planes [3]*plane.Plane, level int) *Densities {
	pic := Assemble(s, p, [3]Curves{}, planes, affine.Identity, level)
	var identity tone.Curve
	for i := range identity {
		identity[i] = uint16(math.Round(65535 * float64(i) / tone.Knots))
	}
	pic.Masks = nil
	for i := range pic.Layers {
		l := &pic.Layers[i]
		l.Print, l.Hidden, l.Laid = &identity, false, l.Scanned
	}
	var out Densities
	samples(s, measureSide, func(x, y float64) {
		for i, v := range pic.Coordinates(x, y) {
			out[i] = append(out[i], density.Max*float64(v))
		}
	})
	return &out
}

// Losses counts, by printer, what is lost and blocked over the sampled picture when it is
// printed the way w, through masks where some are given.
func (p *Printing) Losses(s *session.State, w relief.Way, sampled *Densities, masks *mask.Matrix) [3]Loss {
	var out [3]Loss
	if masks != nil {
		w.Straight = false
		sampled = p.behind(s, masks, sampled)
	}
	for i, l := range p.Relief(s, w) {
		film := filmOf(s, pigment.Printer(i))
		densityAt := func(x float64) float64 { return x }
		low, high := 0.0, float64(density.Max)
		if !w.Straight {
			low, high = 0, 1
		}
		if !w.Straight && masks == nil {
			densityAt = func(u float64) float64 {
				switch {
				case u < 1:
					return relief.DensityOf(film, u)
				case film.Negative: // what is darker than black prints as black
					return 0
				}
				return density.Max
			}
		}
		lost, blocked := l.Ends(low, high)
		o := &out[i]
		o.LostFrom, o.BlockedFrom, o.ByTone = stretch(lost, densityAt), stretch(blocked, densityAt), masks != nil
		for _, d := range sampled[i] {
			switch o.At(d) {
			case relief.Lost:
				o.Lost++
			case relief.Blocked:
				o.Blocked++
			}
		}
		n := float64(max(len(sampled[i]), 1))
		o.Lost, o.Blocked = o.Lost/n, o.Blocked/n
	}
	return out
}

// behind takes densities of the plates to tones of the layers behind masks.
func (p *Printing) behind(s *session.State, masks *mask.Matrix, sampled *Densities) *Densities {
	var films [3]tone.Film
	var out Densities
	for i := range films {
		films[i] = filmOf(s, pigment.Printer(i))
		out[i] = make([]float64, len(sampled[i]))
	}
	for k := range sampled[0] {
		var u [3]float64
		for i := range u {
			u[i] = tone.Depth01(films[i].Exposure(sampled[i][k]))
		}
		for i, v := range masks.Apply(u) {
			out[i][k] = min(max(v, 0), 1)
		}
	}
	return &out
}

// Grey is the colour, in the print's light, of a neutral of the scene printed the way w. u
// is its tone on the scale, from 0 for the paper to 1 for the depth.
func (p *Printing) Grey(s *session.State, w relief.Way, u float64) spectrum.Lab {
	var t [3]float64
	for i, l := range p.Relief(s, w) {
		x := u
		if w.Straight {
			x = relief.DensityOf(filmOf(s, pigment.Printer(i)), u)
		}
		t[i] = l.Amount(x)
	}
	return p.Light.Lab(p.Recipe.Reflectance(t))
}

// within tells whether a density lies in a stretch, both ends included. A stretch whose
// ends are equal holds nothing.
func within(d float64, stretch [2]float64) bool {
	return stretch[0] < stretch[1] && d >= stretch[0] && d <= stretch[1]
}

// stretch takes both ends of a stretch of what a layer is printed along to densities, the
// smaller first.
func stretch(ends [2]float64, density func(float64) float64) [2]float64 {
	a, b := density(ends[0]), density(ends[1])
	return [2]float64{min(a, b), max(a, b)}
}

// Place is a place of a print made the way w, for finding how sure its colour is. The
// densities are those of the three plates there, by printer.
func (p *Printing) Place(s *session.State, w relief.Way, densities [3]float64) spread.Place {
	return p.place(s, w, func(i pigment.Printer) float64 {
		if w.Straight {
			return densities[i]
		}
		return tone.Depth01(filmOf(s, i).Exposure(densities[i]))
	})
}

// PlaceOfGrey is Place where all three plates hold a neutral of the scene. u is its tone
// on the scale, from 0 for the paper to 1 for the depth.
func (p *Printing) PlaceOfGrey(s *session.State, w relief.Way, u float64) spread.Place {
	return p.place(s, w, func(i pigment.Printer) float64 {
		if w.Straight {
			return relief.DensityOf(filmOf(s, i), u)
		}
		return u
	})
}

// place is Place by at, which gives the density or the tone that each layer is printed
// along there; see Relief.
func (p *Printing) place(s *session.State, w relief.Way, at func(i pigment.Printer) float64) spread.Place {
	out := spread.Place{Recipe: p.Recipe, Light: p.Light}
	for i, l := range p.Relief(s, w) {
		printer := pigment.Printer(i)
		x := at(printer)
		out.Amount[i], out.PerStop[i], out.PerScene[i] = l.Hardened(x), l.Response.PerStop(), l.PerScene(x)
		out.HoldOn[i] = l.Response.HoldOn / l.Response.Coat
		out.HoldKnown[i] = p.Recipe.Palette.Layer(printer).Hardening.HoldOnMicron != nil
	}
	return out
}

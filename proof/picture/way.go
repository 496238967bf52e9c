package picture

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/tone"
)

// Relief returns what each plate prints the way w, by printer: relative thicknesses
// along densities of the plate where it is printed straight, along tones of the
// scale where it is tuned.
func (p *Printing) Relief(s *session.State, w relief.Way) [3]relief.Layer {
	var out [3]relief.Layer
	for i := range out {
		printer := pigment.Printer(i)
		r := p.hardens[i]
		wanted := func(u float64) float64 { return p.Scale.Thickness(u)[i] }
		if !w.Straight {
			out[i] = relief.Tuned(r, r, wanted, w.Stops[i])
			continue
		}
		out[i] = relief.Straight(s.Sources[s.SourceOf(printer)].Film, r, w.Range, w.Anchor(), wanted, w.Stops[i])
	}
	return out
}

// Way is how the print is made: as the session has it, but for what a variant
// changes. Masks work on tones, so a masked print is a tuned one, as is one without
// plates.
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

// Films are the films of the three plates, read once: all of Curves that stays where
// another way of printing is taken.
type Films struct {
	tones           [3]*tone.Tones // by printer
	reference, tone [3]*tone.Curve
}

// ReadFilms reads the films of a session.
func ReadFilms(s *session.State) *Films {
	var f Films
	for i := range f.tones {
		film := s.Sources[s.SourceOf(pigment.Printer(i))].Film
		f.tones[i], f.reference[i] = tone.TonesOf(film), tone.ReferenceCurve(film)
		f.tone[i] = f.tones[i].Curve()
	}
	return &f
}

// Curves returns the curves of each printer for the print as it is made, wash and
// coat included. Those of tones, which masks work on, are always the tuned ones.
func (p *Printing) Curves(s *session.State) [3]Curves { return p.CurvesOf(s, ReadFilms(s), p.Way(s)) }

// CurvesOf is Curves for a print made the way w from films that ReadFilms has read.
func (p *Printing) CurvesOf(s *session.State, f *Films, w relief.Way) [3]Curves {
	out, layers, tuned := [3]Curves{}, p.Relief(s, w), w
	tuned.Straight = false
	for i, l := range p.Relief(s, tuned) {
		out[i] = Curves{Reference: f.reference[i], Tone: f.tone[i], Thickness: tone.ThicknessCurve(l.Amount)}
		if w.Straight {
			out[i].Print = tone.AmountCurve(layers[i].Amount)
		} else {
			out[i].Print = f.tones[i].Print(l.Amount)
		}
	}
	return out
}

// Loss is what a layer loses over the picture.
type Loss struct {
	Lost    float64 `json:"lost"`    // share of the picture where the wash takes it, 0 … 1
	Blocked float64 `json:"blocked"` // share where the coat is through

	// What of the plate that is, in density: from the first of each to the second,
	// equal where there is none.
	LostFrom    [2]float64 `json:"lostFrom"`
	BlockedFrom [2]float64 `json:"blockedFrom"`
}

// At tells what of a loss a density of the plate is.
func (l Loss) At(density float64) relief.Fate {
	switch {
	case within(density, l.LostFrom):
		return relief.Lost
	case within(density, l.BlockedFrom):
		return relief.Blocked
	}
	return relief.Held
}

// Densities are those of a picture's three plates at places where all of them hold it,
// by printer.
type Densities [3][]float64

// SampleDensities reads the plates where they lie in register. planes are level l of
// each source's pyramid, by source.
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

// Losses counts, by printer, what is lost and blocked over the sampled picture. It is
// said of the plates: masks move tones a little.
func (p *Printing) Losses(s *session.State, w relief.Way, sampled *Densities) [3]Loss {
	var out [3]Loss
	for i, l := range p.Relief(s, w) {
		film := s.Sources[s.SourceOf(pigment.Printer(i))].Film
		place := func(x float64) float64 { return x }
		low, high := 0.0, float64(density.Max)
		if !w.Straight {
			low, high = 0, 1
			place = func(u float64) float64 {
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
		o.LostFrom, o.BlockedFrom = stretch(lost, place), stretch(blocked, place)
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

// Grey is the colour, in the print's light, of a neutral of the scene printed the way w,
// by its tone on the scale from paper, 0, to the depth, 1.
func (p *Printing) Grey(s *session.State, w relief.Way, tone01 float64) spectrum.Lab {
	var t [3]float64
	for i, l := range p.Relief(s, w) {
		x := tone01
		if w.Straight {
			x = relief.DensityOf(s.Sources[s.SourceOf(pigment.Printer(i))].Film, tone01)
		}
		t[i] = l.Amount(x)
	}
	return p.Light.Lab(p.Recipe.Reflectance(t))
}

// within tells whether a density lies in a stretch, both ends included; one whose ends
// are equal holds nothing.
func within(d float64, stretch [2]float64) bool {
	return stretch[0] < stretch[1] && d >= stretch[0] && d <= stretch[1]
}

// stretch is a stretch of what a layer is printed along, in densities, rising.
func stretch(ends [2]float64, density func(float64) float64) [2]float64 {
	a, b := density(ends[0]), density(ends[1])
	return [2]float64{min(a, b), max(a, b)}
}

// Place is a place of a print made the way w, at the densities of the three plates
// by printer, for how sure its colour is.
func (p *Printing) Place(s *session.State, w relief.Way, densities [3]float64) spread.Place {
	return p.place(s, w, func(i pigment.Printer) float64 {
		if w.Straight {
			return densities[i]
		}
		return tone.Depth01(s.Sources[s.SourceOf(i)].Film.Exposure(densities[i]))
	})
}

// PlaceOfGrey is Place where all three plates hold a neutral of the scene, by its tone on
// the scale from paper, 0, to the depth, 1.
func (p *Printing) PlaceOfGrey(s *session.State, w relief.Way, tone01 float64) spread.Place {
	return p.place(s, w, func(i pigment.Printer) float64 {
		if w.Straight {
			return relief.DensityOf(s.Sources[s.SourceOf(i)].Film, tone01)
		}
		return tone01
	})
}

// place is Place, of what each layer is printed along there; see Relief.
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

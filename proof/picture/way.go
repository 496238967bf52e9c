package picture

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/density"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spread"
	"threeply/proof/tone"
)

// Way is how the layers are printed from their plates. The zero Way is tuned, at the
// normal exposures.
type Way struct {
	Straight bool       `json:"straight"` // negatives as they are or enlarged, one exposure a layer; else negatives drawn so that neutrals print neutral
	Range    float64    `json:"range"`    // density range that straight negatives are enlarged to; 0: as they are
	AtDepth  bool       `json:"atDepth"`  // straight exposures are set for the black; else for a mid grey
	Stops    [3]float64 `json:"stops"`    // by printer, against the normal exposures
}

// Relief returns what each plate prints the way w, by printer: relative thicknesses
// along densities of the plate where it is printed straight, along tones of the
// scale where it is tuned.
func (p *Printing) Relief(s *session.State, w Way) [3]relief.Layer {
	var out [3]relief.Layer
	for i := range out {
		printer := pigment.Printer(i)
		r := relief.Of(p.Recipe.Palette.Layer(printer))
		wanted := func(u float64) float64 { return p.Scale.Thickness(u)[i] }
		if !w.Straight {
			out[i] = relief.Tuned(r, r, wanted, w.Stops[i])
			continue
		}
		anchor := relief.MidGrey
		if w.AtDepth {
			anchor = 1
		}
		out[i] = relief.Straight(s.Sources[s.SourceOf(printer)].Film, r, w.Range, anchor, wanted, w.Stops[i])
	}
	return out
}

// CurvesOf returns the curves of each printer for a print made the way w, wash and
// coat included. Masks work on tones, so a masked print is a tuned one.
func (p *Printing) CurvesOf(s *session.State, w Way) [3]Curves {
	if p.Masks != nil {
		w.Straight = false
	}
	out, layers := [3]Curves{}, p.Relief(s, w)
	for i, l := range layers {
		film := s.Sources[s.SourceOf(pigment.Printer(i))].Film
		out[i] = Curves{Reference: tone.ReferenceCurve(film), Tone: tone.ToneCurve(film)}
		if w.Straight {
			out[i].Print, out[i].Thickness = tone.AmountCurve(l.Amount), tone.ThicknessCurve(func(float64) float64 { return 0 })
		} else {
			out[i].Print, out[i].Thickness = tone.PrintCurve(film, l.Amount), tone.ThicknessCurve(l.Amount)
		}
	}
	return out
}

// Loss is what a layer loses over the picture.
type Loss struct {
	Lost    float64 `json:"lost"`    // share of the picture where the wash takes it, 0 … 1
	Blocked float64 `json:"blocked"` // share where the coat is through

	// What of the plate that is, in density: from the first of each to the second,
	// equal where there is none. A look that marks it compares densities with them.
	LostFrom    [2]float64 `json:"lostFrom"`
	BlockedFrom [2]float64 `json:"blockedFrom"`
}

// Losses counts, by printer, what is lost and blocked where all three plates hold
// the picture. It is said of the plates: masks move tones a little. planes are level
// l of each source's pyramid, by source.
func (p *Printing) Losses(s *session.State, w Way, planes [3]*plane.Plane, level int) [3]Loss {
	pic := Assemble(s, p, p.Curves(s), planes, affine.Identity, level)
	var identity tone.Curve
	for i := range identity {
		identity[i] = uint16(math.Round(65535 * float64(i) / tone.Knots))
	}
	pic.Masks = nil
	for i := range pic.Layers {
		l := &pic.Layers[i]
		l.Print, l.Hidden, l.Laid = &identity, false, l.Scanned
	}
	var densities [3][]float64
	samples(s, measureSide, func(x, y float64) {
		for i, v := range pic.Coordinates(x, y) {
			densities[i] = append(densities[i], density.Max*float64(v))
		}
	})
	var out [3]Loss
	for i, l := range p.Relief(s, w) {
		film := s.Sources[s.SourceOf(pigment.Printer(i))].Film
		along := densities[i]
		place := func(x float64) float64 { return x }
		low, high := 0.0, float64(density.Max)
		if !w.Straight {
			low, high = 0, 1
			for k, d := range along {
				along[k] = tone.Depth01(film.Exposure(d))
			}
			place = func(u float64) float64 { return relief.DensityOf(film, u) }
		}
		out[i].Lost, out[i].Blocked = l.Shares(along)
		lost, blocked := l.Ends(low, high)
		out[i].LostFrom, out[i].BlockedFrom = stretch(lost, place), stretch(blocked, place)
	}
	return out
}

// stretch is a stretch of what a layer is printed along, in densities, rising.
func stretch(ends [2]float64, density func(float64) float64) [2]float64 {
	a, b := density(ends[0]), density(ends[1])
	return [2]float64{min(a, b), max(a, b)}
}

// Place is a place of a print made the way w, at the densities of the three plates
// by printer, for how sure its colour is.
func (p *Printing) Place(s *session.State, w Way, densities [3]float64) spread.Place {
	out := spread.Place{Recipe: p.Recipe, Light: p.Light}
	for i, l := range p.Relief(s, w) {
		printer := pigment.Printer(i)
		x := densities[i]
		if !w.Straight {
			x = tone.Depth01(s.Sources[s.SourceOf(printer)].Film.Exposure(x))
		}
		out.Amount[i], out.PerStop[i], out.PerScene[i] = l.Hardened(x), l.Response.PerStop(), l.PerScene(x)
		out.HoldOn[i] = l.Response.HoldOn / l.Response.Coat
		out.HoldKnown[i] = p.Recipe.Palette.Layer(printer).Hardening.HoldOnMicron != nil
	}
	return out
}

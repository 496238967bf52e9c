// Package levels finds the films of a session's three plates together: by greys
// of the scene, by a grey scale, or by an assumption on its light; and gives what
// a report on the scans looks at.
//
// Planes are density planes by source, at full size or any level of their
// pyramids; films are by source too, as the session keeps them. Matches,
// comparisons and findings speak of plates in the order of filter.All.
package levels

import (
	"fmt"
	"math"

	"threeply/proof/filter"
	"threeply/proof/light"
	"threeply/proof/neutral"
	"threeply/proof/overlay"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// Levels are films that were found together, as the command "films" takes them.
type Levels struct {
	Films   [3]tone.Film    `json:"films"` // by source
	Neutral session.Neutral `json:"neutral"`
}

// Overlay lays the plates of a session over each other, where register has
// them. planes are at full size.
func Overlay(s *session.State, planes [3]*plane.Plane) *overlay.Plates {
	p := &overlay.Plates{}
	for _, f := range filter.All {
		i := s.Assign[f]
		p.Planes[f], p.Areas[f] = planes[i], s.Sources[i].Area
		p.Ways[f] = place.Plate(s, i).Apply
		if f.String() == s.Key {
			p.Key = int(f)
		}
	}
	return p
}

// assumed are the films before anything is known of them together: the ends of
// each plate's picture, and the γ that they have. Black and white are the
// picture's; thin and dense bound it.
func assumed(s *session.State) (films [3]tone.Film, thin, dense [3]float64) {
	for _, f := range filter.All {
		src := s.Sources[s.Assign[f]]
		film := tone.Film{Negative: src.Film.Negative, White: src.Max, Black: src.Base, Gamma: src.Film.Gamma}
		if !film.Negative {
			film.White, film.Black = film.Black, film.White
		}
		films[f], thin[f], dense[f] = film, src.Base, src.Max
	}
	return films, thin, dense
}

// Own are the films of plates that are each taken by itself, from the ends of its
// own picture.
func Own(s *session.State) Levels {
	films, _, _ := assumed(s)
	return Levels{bySource(s, films), session.Neutral{By: session.ByOwn}}
}

func bySource(s *session.State, films [3]tone.Film) (out [3]tone.Film) {
	for _, f := range filter.All {
		out[s.Assign[f]] = films[f]
	}
	return out
}

// ByLight finds the films by an assumption on the light of the scene. Where it
// can tell nothing, the plates are taken each on its own, which Neutral.By says.
// The white is one for all three; the black is each plate's own: base and fog of a
// negative, the densest of a positive.
// γ stays as it is: no assumption on a scene tells it (TestWhichAssumption of
// package light). planes are at full size.
func ByLight(s *session.State, planes [3]*plane.Plane, id string) (Levels, light.Comparison) {
	films, thin, dense := assumed(s)
	c := light.Compare(light.Gather(Overlay(s, planes), films, baseFog(s)))
	l, known := c.Of(id)
	if !known {
		return Own(s), c
	}
	unsure := c.Apart / 2
	if math.IsInf(unsure, 1) {
		unsure = 1
	}
	films = tone.Together(light.Balance(films, l), thin, dense, [3]float64{-1, -1, -1})
	for i, base := range baseFog(s) { // no light is black on every plate, whatever its γ
		if films[i].Black = dense[i]; films[i].Negative {
			films[i].Black = base
		}
	}
	return Levels{bySource(s, films), session.Neutral{By: session.ByLight, Light: id, Unsure: unsure}}, c
}

// baseFog is that of negatives, below 0 of positives.
func baseFog(s *session.State) (base [3]float64) {
	for _, f := range filter.All {
		src := &s.Sources[s.Assign[f]]
		base[f] = -1
		if src.Film.Negative {
			base[f], _ = src.BaseFog()
		}
	}
	return base
}

// rebates are base and fog where the rebate of a negative shows them, else below
// 0.
func rebates(s *session.State) (base [3]float64) {
	for _, f := range filter.All {
		src := &s.Sources[s.Assign[f]]
		base[f] = -1
		if src.Film.Negative && src.Rebate > 0 {
			base[f] = src.Rebate
		}
	}
	return base
}

// ByGreys finds the films by greys of the scene, in pixels of the key. The error
// says which cannot be read, or is neutral.ErrNoGreys.
func ByGreys(s *session.State, planes [3]*plane.Plane, spots []session.Spot) (Levels, neutral.Match, error) {
	p := Overlay(s, planes)
	var greys []neutral.Grey
	for _, at := range spots {
		g, err := neutral.Read(p, at.X, at.Y)
		if err != nil {
			return Levels{}, neutral.Match{}, err
		}
		greys = append(greys, g)
	}
	return fit(s, greys, session.Neutral{By: session.ByGreys, Greys: spots})
}

// ByScale finds the films by a grey scale along a line from one spot to another.
// step is the density between neighbouring steps, 0 where it is not known. The
// error is that of neutral.Along, or neutral.ErrNoGreys.
func ByScale(s *session.State, planes [3]*plane.Plane, from, to session.Spot, step float64) (Levels, neutral.Match, error) {
	scale, err := neutral.Along(Overlay(s, planes), from.X, from.Y, to.X, to.Y)
	if err != nil {
		return Levels{}, neutral.Match{}, err
	}
	n := session.Neutral{By: session.ByScale, Step: step}
	for _, g := range scale.Steps {
		n.Greys = append(n.Greys, session.Spot{X: g.X, Y: g.Y})
	}
	return fit(s, scale.Steps, n)
}

func fit(s *session.State, greys []neutral.Grey, n session.Neutral) (Levels, neutral.Match, error) {
	films, thin, dense := assumed(s)
	known := neutral.Known{Films: films, Step: n.Step, Base: rebates(s)}
	for _, f := range filter.All {
		if f.String() == s.Key {
			known.Key = int(f)
		}
	}
	m, err := neutral.Fit(greys, known)
	if err != nil {
		return Levels{}, m, err
	}
	for i, film := range m.Films {
		if !session.Within(film.Gamma, 0.2, 5) {
			return Levels{}, m, fmt.Errorf("the greys give the %s plate a γ of %.2f, which no film has: are all of them grey, and does each lie on one plate as on the others?", filter.Filter(i), film.Gamma)
		}
	}
	for _, c := range m.Plates {
		n.Unsure = max(n.Unsure, c.AfterCurve/m.Films[m.Key].Gamma/math.Log10(2))
	}
	n.Key = s.Key
	return Levels{bySource(s, tone.Together(m.Films, thin, dense, known.Base)), n}, m, nil
}

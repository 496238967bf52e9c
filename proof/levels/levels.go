// Package levels finds the films of a session's three plates together: by greys
// of the scene, by a grey scale, or by an assumption on its light; and gives what
// a report on the scans looks at.
//
// Films are by source, as the session keeps them. Matches, comparisons and findings
// speak of plates in the order of filter.All, and of places in pixels of the key at
// full size.
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

// Planes are the density planes of a session by source, all at one level of their
// pyramids.
type Planes struct {
	By    [3]*plane.Plane
	Level int
}

// EnoughSide is a key that levels can be found on: its longer side in pixels. A
// grey is read over a disc whose size goes with the picture's, so finer planes tell
// next to nothing more of it.
const EnoughSide = 3520

// EnoughLevel is the level of the pyramids at which the session's key is no larger
// than EnoughSide.
func EnoughLevel(s *session.State) int {
	w, h := s.Frame()
	level := 0
	for side := max(w, h); side > EnoughSide; side = (side + 1) / 2 {
		level++
	}
	return level
}

// Overlay lays the plates of a session over each other, where register has them.
// Places on it are pixels of the key at the planes' level.
func Overlay(s *session.State, planes Planes) *overlay.Plates {
	p := &overlay.Plates{}
	var ordered [3]*plane.Plane
	for _, f := range filter.All {
		i := s.Assign[f]
		ordered[f], p.Areas[f] = planes.By[i], s.Sources[i].Area
		p.Ways[f] = place.Plate(s, i).Apply
		if f.String() == s.Key {
			p.Key = int(f)
		}
	}
	return p.With(ordered, planes.Level)
}

// reduced takes a place of the whole key to the planes' level, full takes a grey
// back.
func (p Planes) reduced(at session.Spot) (x, y float64) {
	k := overlay.Scale(p.Level)
	return (at.X+0.5)/k - 0.5, (at.Y+0.5)/k - 0.5
}

func (p Planes) full(g neutral.Grey) neutral.Grey {
	k := overlay.Scale(p.Level)
	g.X, g.Y, g.Radius = (g.X+0.5)*k-0.5, (g.Y+0.5)*k-0.5, g.Radius*k
	return g
}

// assumed are the films before anything is known of them together: the ends of
// each plate's picture, and the γ that was given or is supposed of each. Black and
// white are the picture's; thin and dense bound it.
func assumed(s *session.State) (films [3]tone.Film, thin, dense [3]float64) {
	for _, f := range filter.All {
		src := s.Sources[s.Assign[f]]
		film := tone.Film{Negative: src.Film.Negative, White: src.Max, Black: src.Base, Gamma: src.Film.Gamma}
		if n := s.Neutral; (n.By == session.ByGreys || n.By == session.ByScale) && (n.Absolute() || f.String() != n.Key) {
			film.Gamma = session.DefaultGamma(film.Negative) // it goes with the greys that told it
		}
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
// package light).
func ByLight(s *session.State, planes Planes, id string) (Levels, light.Comparison) {
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
func ByGreys(s *session.State, planes Planes, spots []session.Spot) (Levels, neutral.Match, error) {
	return Again(s, planes, session.Neutral{By: session.ByGreys, Greys: spots, Key: s.Key})
}

// ByScale finds the films by a grey scale along a line from one spot to another.
// Of known, Step and Densities are looked at: what is known of its steps. The error is
// that of neutral.Along or of neutral.Fit.
func ByScale(s *session.State, planes Planes, from, to session.Spot, known session.Neutral) (Levels, neutral.Match, error) {
	for _, end := range []session.Spot{from, to} {
		if err := onPlates(s, "the line's end", end); err != nil {
			return Levels{}, neutral.Match{}, err
		}
	}
	x0, y0 := planes.reduced(from)
	x1, y1 := planes.reduced(to)
	scale, err := neutral.Along(Overlay(s, planes), x0, y0, x1, y1)
	if err != nil {
		return Levels{}, neutral.Match{}, err
	}
	n := session.Neutral{By: session.ByScale, Step: known.Step, Densities: known.Densities}
	for i, g := range scale.Steps {
		scale.Steps[i] = planes.full(g)
		n.Greys = append(n.Greys, session.Spot{X: scale.Steps[i].X, Y: scale.Steps[i].Y})
	}
	return fit(s, scale.Steps, n)
}

// whole is how many steps make it likely that no more of a scale are to be found.
const whole = 8

// seen looks for a grey scale on the plates reduced by one level, which is four times as
// fast and fine enough for most, and on the plates themselves where that shows hardly any.
// k is the size of a pixel of its places, in pixels of p.
func seen(p *overlay.Plates) (scale neutral.Scale, k float64) {
	small, k := p.Reduced(1)
	scale, _ = neutral.Find(small)
	if len(scale.Steps) < whole {
		if fine, ok := neutral.Find(p); ok && len(fine.Steps) >= len(scale.Steps) {
			return fine, 1
		}
	}
	return scale, k
}

// Scale looks for a grey scale in the picture on reduced plates, and reads its steps on
// planes; see neutral.Find. ok is false where none lies there.
func Scale(s *session.State, planes Planes) (scale neutral.Scale, ok bool) {
	p := Overlay(s, planes)
	small, far := p.Reduced(max(EnoughLevel(s)-planes.Level, 0))
	found, k := seen(small)
	if len(found.Steps) == 0 {
		return scale, false
	}
	k *= far
	// Reduced plates may not show the steps at either end: the line is drawn longer by two.
	more := 2 / float64(len(found.Steps)-1)
	dx, dy := more*(found.X1-found.X0), more*(found.Y1-found.Y0)
	at := func(x, y float64) (float64, float64) {
		x, y = (x+0.5)*k-0.5, (y+0.5)*k-0.5
		w, h := s.Frame()
		size := overlay.Scale(planes.Level)
		return min(max(x, 0), float64(w)/size-1), min(max(y, 0), float64(h)/size-1)
	}
	x0, y0 := at(found.X0-dx, found.Y0-dy)
	x1, y1 := at(found.X1+dx, found.Y1+dy)
	scale, err := neutral.Along(p, x0, y0, x1, y1)
	return scale, err == nil
}

// Proposed looks for a grey scale in the picture, for a person to confirm; see
// neutral.Find. It returns the films that it would give, or nil where none lies
// there.
func Proposed(s *session.State, planes Planes) *Levels {
	scale, k := seen(Overlay(s, planes))
	if len(scale.Steps) == 0 {
		return nil
	}
	k *= overlay.Scale(planes.Level)
	n := session.Neutral{By: session.ByScale, Key: s.Key}
	for _, g := range scale.Steps {
		n.Greys = append(n.Greys, session.Spot{X: (g.X+0.5)*k - 0.5, Y: (g.Y+0.5)*k - 0.5})
	}
	l, _, err := Again(s, planes, n)
	if err != nil {
		return nil
	}
	return &l
}

// Again reads the greys that a session's films rest on, or are to rest on, and
// finds the films by them as the plates lie now. The error says which cannot be read,
// or is neutral.ErrNoGreys.
func Again(s *session.State, planes Planes, n session.Neutral) (Levels, neutral.Match, error) {
	spots, err := Spots(s, n)
	if err != nil {
		return Levels{}, neutral.Match{}, err
	}
	p := Overlay(s, planes)
	var greys []neutral.Grey
	for _, at := range spots {
		if err := onPlates(s, "the grey", at); err != nil {
			return Levels{}, neutral.Match{}, err
		}
		x, y := planes.reduced(at)
		g, err := neutral.Read(p, x, y)
		if err != nil {
			return Levels{}, neutral.Match{}, err
		}
		greys = append(greys, planes.full(g))
	}
	n.Greys = spots
	return fit(s, greys, n)
}

// Want is what films are to rest on.
type Want struct {
	Neutral session.Neutral  `json:"neutral"`        // By, and what that takes: Light, or Greys with their Key, Step and Densities
	Line    *[2]session.Spot `json:"line,omitempty"` // of ByScale, in place of Greys: the line along which the scale lies
}

// Find finds the films that are wanted. The error says what cannot be read.
func Find(s *session.State, planes Planes, w Want) (Levels, error) {
	switch n := w.Neutral; {
	case w.Line != nil:
		l, _, err := ByScale(s, planes, w.Line[0], w.Line[1], n)
		return l, err
	case n.By == session.ByGreys || n.By == session.ByScale:
		l, _, err := Again(s, planes, n)
		return l, err
	case n.By == session.ByLight:
		l, _ := ByLight(s, planes, n.Light)
		if l.Neutral.By != session.ByLight && n.Chosen {
			return l, fmt.Errorf("by this assumption the picture does not tell the light of its scene: too little of it can be used. Choose another one, or point at something grey")
		}
		l.Neutral.Chosen = n.Chosen
		return l, nil
	case n.By == session.ByOwn:
		l := Own(s)
		l.Neutral.Chosen = n.Chosen
		return l, nil
	}
	return Levels{}, fmt.Errorf("films cannot rest on “%.20s”", w.Neutral.By)
}

// Spots are the places of greys in pixels of the key as it is now; they were
// pointed at in pixels of the plate that was the key then.
func Spots(s *session.State, n session.Neutral) ([]session.Spot, error) {
	was, known := filter.Named(n.Key)
	if !known || n.Key == s.Key {
		return n.Greys, nil
	}
	way := place.Plate(s, s.Assign[was])
	var out []session.Spot
	for _, at := range n.Greys {
		x, y, ok := way.Back(at.X, at.Y)
		if !ok {
			return nil, fmt.Errorf("the place of the %s plate cannot be undone; register the plates again", n.Key)
		}
		out = append(out, session.Spot{X: x, Y: y})
	}
	return out, nil
}

// onPlates refuses a place of the key that one of the plates does not hold.
func onPlates(s *session.State, what string, at session.Spot) error {
	inside := func(x, y float64, w, h int) bool {
		return x > -0.5 && y > -0.5 && x < float64(w)-0.5 && y < float64(h)-0.5
	}
	if w, h := s.Frame(); !inside(at.X, at.Y, w, h) {
		return fmt.Errorf("%s at %.0f,%.0f lies off the picture of %d × %d pixels", what, at.X, at.Y, w, h)
	}
	for _, f := range filter.All {
		src := s.Sources[s.Assign[f]]
		if x, y := place.Plate(s, s.Assign[f]).Apply(at.X, at.Y); !inside(x, y, src.W, src.H) {
			return fmt.Errorf("%s at %.0f,%.0f lies beyond the edge of the %s plate", what, at.X, at.Y, f)
		}
	}
	return nil
}

func fit(s *session.State, greys []neutral.Grey, n session.Neutral) (Levels, neutral.Match, error) {
	films, thin, dense := assumed(s)
	known := neutral.Known{Films: films, Step: n.Step, Densities: n.Densities, Base: rebates(s)}
	n.Unsure = 0
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
		n.Unsure = max(n.Unsure, max(c.AfterCurve, neutral.LeastError)/m.Films[m.Key].Gamma/math.Log10(2))
	}
	n.Key, n.Light, n.Chosen = s.Key, "", false
	return Levels{bySource(s, tone.Together(m.Films, thin, dense, known.Base)), n}, m, nil
}

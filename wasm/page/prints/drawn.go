package prints

import (
	"slices"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// readFilms are films, read once for all printings.
type readFilms struct {
	of    [3]tone.Film // by printer
	films *picture.Films
}

// drawn are the curves of a printing, and what they stand on.
type drawn struct {
	printing *picture.Printing
	films    [3]tone.Film
	way      relief.Way
	curves   [3]picture.Curves
}

// mostDrawn curves are kept, of some 100 kB each.
const mostDrawn = 6

// filmsOf are the films of a session's plates, by printer.
func filmsOf(s *session.State) (films [3]tone.Film) {
	for i := range films {
		films[i] = s.Sources[s.SourceOf(pigment.Printer(i))].Film
	}
	return films
}

// filmsRead are a session's films, read.
func (p *Prints) filmsRead(s *session.State) *picture.Films {
	if films := filmsOf(s); p.read.films == nil || p.read.of != films {
		p.read = readFilms{films, picture.ReadFilms(s)}
	}
	return p.read.films
}

// curves are those of a printing.
func (p *Prints) curves(s *session.State, printing *picture.Printing) [3]picture.Curves {
	if i := p.drawnAt(s, printing); i >= 0 {
		return p.drawn[i].curves
	}
	now := drawn{printing, filmsOf(s), printing.Way(s), printing.CurvesOf(s, p.filmsRead(s), printing.Way(s))}
	p.drawn = slices.Insert(p.drawn, 0, now)
	if len(p.drawn) > mostDrawn {
		clear(p.drawn[mostDrawn:])
		p.drawn = p.drawn[:mostDrawn]
	}
	return now.curves
}

// drawnAt is where the curves of a printing are kept, -1 where they are not.
func (p *Prints) drawnAt(s *session.State, printing *picture.Printing) int {
	films, way := filmsOf(s), printing.Way(s)
	return slices.IndexFunc(p.drawn, func(d drawn) bool { return d.printing == printing && d.films == films && d.way == way })
}

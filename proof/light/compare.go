package light

import (
	"fmt"
	"math"

	"threeply/proof/tone"
)

// Default is the assumption that is made unless another is chosen: the one
// that came off best in TestWhichAssumption.
const Default = "white-patch"

// Estimated is what one assumption makes of a picture.
type Estimated struct {
	ID    string     `json:"id"`
	Known bool       `json:"known"` // false where it could tell nothing
	Light Light      `json:"light"`
	Stops [3]float64 `json:"stops"` // against the green plate
}

// Comparison is what all assumptions make of a picture.
type Comparison struct {
	Estimates []Estimated `json:"estimates"` // in the order of Assumptions
	// Apart is how far the assumptions disagree: the largest difference
	// between two of them on the exposure of one plate against the green, in
	// stops. It is infinite where fewer than two tell anything.
	Apart float64 `json:"-"`
	Words string  `json:"words"`
}

// Compare asks every assumption.
func Compare(p *Picture) Comparison {
	var c Comparison
	lo, hi := [3]float64{}, [3]float64{}
	known := 0
	for _, a := range Assumptions() {
		l, ok := a.Estimate(p)
		e := Estimated{ID: a.ID, Known: ok, Light: l}
		if ok {
			e.Stops = l.Stops()
			for i, s := range e.Stops {
				if known == 0 {
					lo[i], hi[i] = s, s
				}
				lo[i], hi[i] = min(lo[i], s), max(hi[i], s)
			}
			known++
		}
		c.Estimates = append(c.Estimates, e)
	}
	c.Apart = math.Inf(1)
	if known > 1 {
		c.Apart = max(hi[0]-lo[0], hi[2]-lo[2])
	}
	c.Words = c.words()
	return c
}

// Of returns the estimate of an assumption.
func (c Comparison) Of(id string) (Light, bool) {
	for _, e := range c.Estimates {
		if e.ID == id {
			return e.Light, e.Known
		}
	}
	return Light{}, false
}

// How far assumptions may disagree, in stops. At a third of a stop a middle
// grey turns by some eight units of chroma between them.
const (
	agree    = 0.15
	disagree = 0.5
)

// Unknown says that the picture does not tell its light: the assumptions
// contradict each other, or tell nothing.
func (c Comparison) Unknown() bool { return !(c.Apart < disagree) }

func (c Comparison) words() string {
	switch {
	case math.IsInf(c.Apart, 1):
		return "The light of the scene is unknown: too little of the picture can be used to tell it. The plates are taken as they are."
	case c.Unknown():
		return fmt.Sprintf("The light of the scene is unknown: the assumptions differ by up to %.1f stops. Point at something grey.", c.Apart)
	case c.Apart > agree:
		return fmt.Sprintf("The light of the scene is a guess: the assumptions differ by up to %.1f stop. A grey in the scene would settle it.", c.Apart)
	}
	return fmt.Sprintf("The assumptions on the light of the scene agree within %.2f stop.", c.Apart)
}

// Balance brings films into agreement on a neutral in that light: the same
// LogExposure in all three. Films tell exposures relative to their White, as
// those of Gather do.
func Balance(films [3]tone.Film, l Light) [3]tone.Film {
	for i, f := range films {
		white, black := math.Log10(l[i]), f.LogExposure(f.Black)
		films[i].White, films[i].Black = f.Density(white), f.Density(black+white)
	}
	return films
}

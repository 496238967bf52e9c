package session

import (
	"fmt"
)

// Neutral says what the films of the three plates rest on: their white, black and
// γ, which lie in Source.Film.
type Neutral struct {
	By     string  `json:"by"`               // one of the constants below; "" is ByOwn
	Light  string  `json:"light,omitempty"`  // the assumption, where By is ByLight
	Chosen bool    `json:"chosen,omitempty"` // the user chose By, which is ByLight or ByOwn; else the tool did
	Greys  []Spot  `json:"greys,omitempty"`  // where greys were read, where By is ByGreys or ByScale
	Step   float64 `json:"step,omitempty"`   // density between the greys of a scale, where it is known and the same for all
	Key    string  `json:"key,omitempty"`    // filter of the plate that Greys are pixels of
	Unsure float64 `json:"unsure,omitempty"` // stops by which a neutral's exposure on one plate may be wrong against the others

	// Densities of the greys of a scale one by one, rising, where they are known in place of Step.
	Densities []float64 `json:"densities,omitempty"`
}

// Spot is a place on the key, in pixels.
type Spot struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// What films rest on.
const (
	ByOwn   = "own"   // the ends of each plate's own picture
	ByLight = "light" // an assumption on the light of the scene
	ByGreys = "greys" // greys that the user pointed at
	ByScale = "scale" // a grey scale in the scene
	ByHand  = "hand"  // figures that the user set
)

// mostGreys bounds what a session holds.
const mostGreys = 64

// Absolute tells that the steps of a grey scale say how steep each film is, not only each
// against the others.
func (n Neutral) Absolute() bool { return n.Step > 0 || len(n.Densities) > 0 }

// ByUser tells films that the user measured, set or chose, which nothing replaces
// unasked.
func (n Neutral) ByUser() bool {
	return n.Chosen || n.By == ByGreys || n.By == ByScale || n.By == ByHand
}

// checkFilms: what the table does not say.
func (s *State) checkFilms() *Fault {
	for i, src := range s.Sources {
		if err := src.Film.Bend.Check(); err != nil {
			return fault(fmt.Sprintf("sources[%d].film.bend", i), "%s: %v", src.File, err)
		}
	}
	if n := len(s.Neutral.Greys); n > mostGreys {
		return fault("neutral.greys", "%d greys: up to %d can be pointed at", n, mostGreys)
	}
	if d := s.Neutral.Densities; len(d) > 0 && len(d) != len(s.Neutral.Greys) {
		return fault("neutral.densities", "%d densities of %d greys: give one for each, or none", len(d), len(s.Neutral.Greys))
	}
	for i, d := range s.Neutral.Densities {
		if i > 0 && !(d > s.Neutral.Densities[i-1]) {
			return fault(fmt.Sprintf("neutral.densities[%d]", i), "%g follows %g: the densities must rise", d, s.Neutral.Densities[i-1])
		}
	}
	return nil
}

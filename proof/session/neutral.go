package session

import (
	"fmt"

	"threeply/proof/filter"
)

// Neutral says what the films of the three plates rest on: their white, black and
// γ, which lie in Source.Film.
type Neutral struct {
	By     string  `json:"by"`               // one of the constants below; "" is ByOwn
	Light  string  `json:"light,omitempty"`  // the assumption, where By is ByLight
	Greys  []Spot  `json:"greys,omitempty"`  // where greys were read, where By is ByGreys or ByScale
	Step   float64 `json:"step,omitempty"`   // density between the greys of a scale, where it is known
	Key    string  `json:"key,omitempty"`    // filter of the plate that Greys are pixels of
	Unsure float64 `json:"unsure,omitempty"` // stops by which a neutral's exposure on one plate may be wrong against the others
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

// ByUser tells films that the user measured or set, which nothing replaces
// unasked.
func (n Neutral) ByUser() bool { return n.By == ByGreys || n.By == ByScale || n.By == ByHand }

func (s *State) checkFilms() error {
	for _, src := range s.Sources {
		if src.File == "" {
			continue
		}
		f := src.Film
		if !Within(f.Gamma, 0.2, 5) {
			return fmt.Errorf("%s: a film contrast (γ) of %g: 0.2 to 5 can be set", src.File, f.Gamma)
		}
		if !Within(f.White, -4, 8) || !Within(f.Black, -4, 8) {
			return fmt.Errorf("%s: a white at density %g and a black at %g: -4 to 8 can be set", src.File, f.White, f.Black)
		}
		if err := f.Bend.Check(); err != nil {
			return fmt.Errorf("%s: %v", src.File, err)
		}
	}
	switch n := s.Neutral; {
	case n.By != "" && n.By != ByOwn && n.By != ByLight && !n.ByUser():
		return fmt.Errorf("films cannot rest on “%s”: there are %s, %s, %s, %s and %s", n.By, ByOwn, ByLight, ByGreys, ByScale, ByHand)
	case len(n.Greys) > mostGreys:
		return fmt.Errorf("%d greys: up to %d can be pointed at", len(n.Greys), mostGreys)
	case !Within(n.Step, 0, 2):
		return fmt.Errorf("steps of a grey scale %g apart in density: up to 2 can be set", n.Step)
	case !Within(n.Unsure, 0, 100):
		return fmt.Errorf("an exposure unsure by %g stops: 0 to 100 can be", n.Unsure)
	}
	if _, ok := filter.Named(s.Neutral.Key); s.Neutral.Key != "" && !ok {
		return fmt.Errorf("no plate “%s” that greys lie on", s.Neutral.Key)
	}
	return nil
}

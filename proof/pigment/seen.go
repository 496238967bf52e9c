package pigment

import (
	"fmt"
	"strings"
)

// Seen is what the eye told of a test sheet: places of patches, such as C4, empty where it
// told nothing.
type Seen struct {
	Yellow  SeenLayer `json:"yellow"`
	Magenta SeenLayer `json:"magenta"`
	Cyan    SeenLayer `json:"cyan"`

	// Of the middle, the light and the deep block of greys, the one that looks neutral, or up to
	// three that it lies between, parted by spaces.
	Neutral string `json:"neutral"`
	Light   string `json:"light,omitempty"`
	Deep    string `json:"deep,omitempty"`
}

// SeenLayer is what the eye told of the steps of one layer.
type SeenLayer struct {
	Held    string  `json:"held"`    // the lightest step that left something
	Last    string  `json:"last"`    // the darker of the last two that can be told apart
	Match   string  `json:"match"`   // the step that looks as dark as a grey, through the filter that its layer is dark in
	Density float64 `json:"density"` // of that grey, to base 10; 0 where none was matched
}

// MostMatched is the largest density that a grey can be matched at.
const MostMatched = 3

// MostNeutral is how many greys can be named that the neutral lies between; mostPlace is how
// long the name of a place can be.
const (
	MostNeutral = 3
	mostPlace   = 3
)

// Places are those that were named together, as in “E9 E10”.
func Places(named string) []string {
	return strings.FieldsFunc(named, func(r rune) bool { return strings.ContainsRune(" ,;+/", r) })
}

// Layer is what was told of one printer.
func (s *Seen) Layer(p Printer) SeenLayer { return [3]SeenLayer{s.Yellow, s.Magenta, s.Cyan}[p] }

func (s *Seen) check() *Fault {
	at := func(reason string, path ...any) *Fault {
		return &Fault{append([]any{"measured", "seen"}, path...), reason}
	}
	for _, p := range Printers() {
		l := s.Layer(p)
		for key, place := range map[string]string{"held": l.Held, "last": l.Last, "match": l.Match} {
			if len(place) > mostPlace {
				return at("give the place of a patch, such as C4", p.String(), key)
			}
		}
		if !(l.Density >= 0 && l.Density <= MostMatched) {
			return at(fmt.Sprintf("a grey of density %g; give 0 to %d", l.Density, MostMatched), p.String(), "density")
		}
	}
	for key, places := range map[string]string{"neutral": s.Neutral, "light": s.Light, "deep": s.Deep} {
		if len(places) > MostNeutral*(mostPlace+1)-1 {
			return at(fmt.Sprintf("give the places of %d patches at most, such as E9 E10", MostNeutral), key)
		}
	}
	return nil
}

package model

import (
	"fmt"
	"maps"
	"math"

	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/wasm/page/view"
)

// Marks are the points that a person pins in the plates.
type Marks struct {
	Marks    []Mark   `json:"marks"`
	Chosen   int      `json:"chosenMark"` // its number, 0 for none
	PinPlate string   `json:"pinPlate"`   // the plate whose pin the keys move
	Together bool     `json:"together"`
	By       string   `json:"registerBy"`
	Share    float64  `json:"markShare"`
	Gives    []string `json:"marksGive"` // what the marks give, a sentence a plate
}

// Mark is one of them.
type Mark struct {
	N      int     `json:"n"`
	Weight float64 `json:"weight"`
	Open   bool    `json:"open"` // something of it is proposed, or not pinned
	Plates []Pin   `json:"plates"`
}

// Pin is the mark in one plate.
type Pin struct {
	Filter     string   `json:"filter"`
	Set        bool     `json:"set"`
	Proposed   bool     `json:"proposed"`
	Words      string   `json:"words"`
	ResidualPx *float64 `json:"residualPx"` // null where there is none
	ResidualUm *float64 `json:"residualUm"`
}

// Search is what is known of looking for marks in the other plates.
type Search struct {
	Now    int             // number of the mark that is looked for, 0 for none
	Missed map[int][3]bool // by number of the mark and source: it was looked for in vain
}

type marksOn struct {
	session  session.State // see geometryOf
	chosen   int
	filter   int
	together bool
	search   Search
}

func onMarks(in Input) marksOn {
	m := in.View.Marking
	search := Search{in.Search.Now, maps.Clone(in.Search.Missed)} // it is written to
	return marksOn{geometryOf(in.Session), m.Mark, m.Filter, m.Together, search}
}

func makeMarks(on marksOn) Marks {
	s := &on.session
	out := Marks{
		Marks: []Mark{}, Gives: []string{}, Together: on.together, PinPlate: session.Filters[on.filter], By: s.By, Share: s.MarkShare,
	}
	if !open(s) {
		return out
	}
	if s.MarkOf(on.chosen) >= 0 {
		out.Chosen = on.chosen
	}
	for _, m := range s.Marks {
		one := Mark{N: m.N, Weight: m.Weight, Open: !view.Settled(m)}
		for f := range session.Filters {
			one.Plates = append(one.Plates, on.pin(m, f))
		}
		out.Marks = append(out.Marks, one)
	}
	for f, name := range session.Filters {
		if name != s.Key && len(s.Marks) > 0 {
			out.Gives = append(out.Gives, givesWords(s, f))
		}
	}
	return out
}

func (on *marksOn) pin(m session.Pinned, f int) Pin {
	s := &on.session
	i := s.Assign[f]
	pin := m.At[i]
	out := Pin{Filter: session.Filters[f], Set: pin.Set, Proposed: pin.Proposed}
	switch {
	case pin.Proposed:
		out.Words = fmt.Sprintf("proposed, %s, %.0f %%", certaintyWords(pin.Certainty), 100*pin.Certainty)
	case pin.Set && pin.Certainty < 1:
		out.Words = fmt.Sprintf("confirmed, from %.0f %%", 100*pin.Certainty)
	case pin.Set:
		out.Words = "pinned"
	case on.search.Now == m.N:
		out.Words = "being looked for"
	case on.search.Missed[m.N][i]:
		out.Words = "not found: pin it by hand"
	default:
		out.Words = "not pinned yet"
	}
	if px, ok := place.MarkResidual(s, m, i); ok {
		um := px * s.PixelMicrons() / math.Sqrt(math.Abs(place.Register(s, i).Det()))
		out.ResidualPx, out.ResidualUm = &px, &um
	}
	return out
}

func certaintyWords(v float64) string {
	switch {
	case v >= 0.7:
		return "sure"
	case v >= 0.35:
		return "fairly sure"
	}
	return "a guess"
}

// muchStrain is where marks are said to lie too close together. Marks amid the four
// quarters of the picture strain its corners by 1.5.
const muchStrain = 3

// givesWords says what the marks make of a plate.
func givesWords(s *session.State, f int) string {
	i, name := s.Assign[f], session.Filters[f]
	say := verdict.OfMarks(s, i)
	switch {
	case say.N == 0:
		return fmt.Sprintf("The %s plate has no mark yet that is pinned in the key too.", name)
	case say.Err != nil:
		return fmt.Sprintf("The %s plate: %v.", name, say.Err)
	}
	kind := map[string]string{
		"shift": "one mark gives a shift", "similarity": "two marks give shift, turn and stretch",
		"affine": fmt.Sprintf("%d marks give an affine map", say.N),
	}[string(say.Kind)]
	out := fmt.Sprintf("The %s plate: %s", name, kind)
	if say.Spare {
		out += fmt.Sprintf(", which misses them by %.2f px (root mean square)", say.Residual)
	}
	gathered := ""
	if say.Strain > muchStrain {
		gathered = fmt.Sprintf(" They lie close together: one pixel's error of the pins is %.0f at the far corner. Pin one more, far from the others.", say.Strain)
	}
	if s.Registered != "auto" {
		return out + "." + gathered
	}
	beside := "found"
	if s.Found[i].ByHand {
		beside = "set by hand"
	}
	return out + fmt.Sprintf("; from what was %s it lies %.2f px at the centre and %.2f px at the farthest corner.", beside, say.Centre, say.Corner) + gathered
}

// Pins are the marks in every frame.
type Pins struct {
	Pins [][]view.PanePin `json:"pins"`
}

type pinsOn struct {
	view    view.View     // see panesOf
	session session.State // see layingOf
}

func onPins(in Input) pinsOn { return pinsOn{panesOf(in.View), layingOf(in.Session)} }

func makePins(on pinsOn) Pins {
	out := Pins{[][]view.PanePin{}}
	if open(&on.session) {
		for _, p := range on.view.Panes() {
			out.Pins = append(out.Pins, on.view.Pins(&on.session, p))
		}
	}
	return out
}

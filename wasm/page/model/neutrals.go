package model

import (
	"fmt"

	"threeply/proof/levels"
	"threeply/proof/light"
	"threeply/proof/neutral"
	"threeply/proof/place"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/tone"
	"threeply/wasm/page/view"
)

// Neutrals is what white, black and contrast of the plates rest on.
type Neutrals struct {
	RestsOn    RestsOn      `json:"restsOn"`
	GreyList   []GreyPlace  `json:"greyList"`   // with those that are being read
	ScaleFound int          `json:"scaleFound"` // steps of a grey scale that the tool saw and that is not in use, 0 for none
	Blur       [3]float64   `json:"blur"`       // of the plates' sharpest edges by source, for the audit
	AuditKey   string       `json:"auditKey"`   // changes with all that the audit of the plates stands on, but for the recipe
	Assumed    []Assumption `json:"assumptions"`
}

// RestsOn says it.
type RestsOn struct {
	By    string `json:"by"`
	Light string `json:"light"`
	Steps string `json:"steps"` // what is known of the steps of a scale, as neutral.ReadSteps reads it
	Words string `json:"words"`
}

// GreyPlace is one grey, in pixels of the key.
type GreyPlace struct {
	N int     `json:"n"`
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Assumption is one that can be made on the light of the scene; the ID "" takes each
// plate by itself.
type Assumption struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Says string `json:"says"`
}

// LevelsInput is what is known of the films beside the session.
type LevelsInput struct {
	Greys session.Neutral // with those that are being read, in pixels of the key
	Scale *levels.Levels  // that the tool saw, nil for none
	Blur  [3]float64      // by source
	Demo  bool            // the demonstration set is open
}

type neutralsOn struct {
	neutral session.Neutral
	greys   session.Neutral
	scale   session.Neutral
	demo    bool
	audit   auditStands
}

// auditStands is all that the audit of the plates stands on, but for the recipe.
type auditStands struct {
	Opened  int
	Sources [3]session.Source
	Assign  [3]int
	Key     string
	Neutral session.Neutral
	Places  [3]place.Path
	Width   float64
	Way     relief.Way
	Masked  bool
	Blur    [3]float64
}

func onNeutrals(in Input) neutralsOn {
	s := in.Session
	on := neutralsOn{neutral: s.Neutral, greys: in.Levels.Greys, demo: in.Levels.Demo}
	if l := in.Levels.Scale; l != nil {
		on.scale = l.Neutral
	}
	on.audit = auditStands{
		Opened: in.Opened, Sources: s.Sources, Assign: s.Assign, Key: s.Key, Neutral: s.Neutral, Width: s.PrintWidth,
		Way: s.Way, Masked: s.Masked, Blur: in.Levels.Blur,
	}
	for i := range on.audit.Places {
		on.audit.Places[i] = place.Plate(s, i)
	}
	return on
}

func makeNeutrals(on neutralsOn) Neutrals {
	n := on.neutral
	out := Neutrals{
		RestsOn:  RestsOn{By: n.By, Light: n.Light, Steps: neutral.WriteSteps(n.Step, n.Densities), Words: on.words()},
		GreyList: []GreyPlace{}, Blur: on.audit.Blur, Assumed: []Assumption{},
	}
	for i, at := range on.greys.Greys {
		out.GreyList = append(out.GreyList, GreyPlace{i + 1, at.X, at.Y})
	}
	if len(on.scale.Greys) > 0 && !sameGreys(on.scale, n) {
		out.ScaleFound = len(on.scale.Greys)
	}
	for _, a := range light.Assumptions() {
		out.Assumed = append(out.Assumed, Assumption{a.ID, a.Name, a.Says})
	}
	out.Assumed = append(out.Assumed, Assumption{"", "none", "each plate is taken by itself"})
	if on.audit.Sources[0].W > 0 {
		out.AuditKey = digest(on.audit)
	}
	return out
}

func sameGreys(a, b session.Neutral) bool {
	if a.By != b.By || a.Key != b.Key || len(a.Greys) != len(b.Greys) {
		return false
	}
	for i := range a.Greys {
		if a.Greys[i] != b.Greys[i] {
			return false
		}
	}
	return true
}

// words say what the films rest on.
func (on *neutralsOn) words() string {
	n := on.neutral
	switch n.By {
	case session.ByLight:
		a, _ := light.AssumptionByID(n.Light)
		return fmt.Sprintf("By an assumption, %s: %s.", a.Name, a.Says)
	case session.ByGreys:
		if len(n.Greys) == 1 {
			return "By one grey that you pointed at."
		}
		return fmt.Sprintf("By %d greys that you pointed at.", len(n.Greys))
	case session.ByScale:
		words := fmt.Sprintf("By the grey scale of %d steps that lies in the picture.", len(n.Greys))
		if on.demo && sameGreys(on.scale, n) {
			words += " In this demonstration set it was found and taken by itself; in your own it is proposed."
		}
		return words
	case session.ByHand:
		return "By figures that you set."
	}
	return "Each plate is taken by itself, from the ends of its own picture: neutrals are left to chance."
}

// Pointed are the greys in every frame.
type Pointed struct {
	Pointed  [][]view.PaneGrey `json:"pointed"`
	Proposed [][]view.PaneGrey `json:"proposedGreys"` // of the scale that the tool saw
	Row      bool              `json:"greyRow"`       // the greys are the steps of one scale
	Rule     *Segment          `json:"rule"`          // the line that is being drawn along a scale
}

type greysOn struct {
	view     view.View // see panesOf; with the rule
	session  session.State
	greys    session.Neutral
	proposed []session.Spot
}

// onGreys: greys are seen where they are worked at.
func onGreys(in Input) greysOn {
	if in.View.Station != "plates" {
		return greysOn{}
	}
	on := greysOn{view: panesOf(in.View), session: layingOf(in.Session), greys: in.Levels.Greys}
	on.view.Rule, on.view.From = in.View.Rule, in.View.From
	for i := range on.session.Sources {
		on.session.Sources[i].Film = tone.Film{}
	}
	if l := in.Levels.Scale; l != nil && len(on.greys.Greys) == 0 && l.Neutral.Key == in.Session.Key { // where greys are in use it would lie in their way
		on.proposed = l.Neutral.Greys
	}
	return on
}

func makeGreys(on greysOn) Pointed {
	out := Pointed{Pointed: [][]view.PaneGrey{}, Proposed: [][]view.PaneGrey{}, Row: on.greys.By == session.ByScale}
	r := on.view.Rule
	if r == nil && open(&on.session) {
		r = on.view.RuleByKeys()
	}
	if r != nil {
		out.Rule = &Segment{r[0], r[1], r[2], r[3]}
	}
	if !open(&on.session) {
		return out
	}
	for _, p := range on.view.Panes() {
		out.Pointed = append(out.Pointed, on.view.Greys(&on.session, p, on.greys.Greys))
		out.Proposed = append(out.Proposed, on.view.Greys(&on.session, p, on.proposed))
	}
	return out
}

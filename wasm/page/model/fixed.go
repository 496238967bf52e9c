package model

import (
	"threeply/proof/label"
	"threeply/proof/session"
	"threeply/proof/stack"
	"threeply/wasm/page/view"
)

// Fixed is what never changes.
type Fixed struct {
	Looks    []view.LookChoice     `json:"looks"`
	Layouts  []Named               `json:"layouts"`
	Measure  string                `json:"measure"` // how a paper of one's own is to be measured
	Cautions []string              `json:"cautions"`
	Version  string                `json:"version"` // the tool’s name and version
	Ranges   map[string][2]float64 `json:"ranges"`  // least and largest of every number of a session, by its place there
}

// Named is something that the user can choose, and its name on the page.
type Named struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

func makeFixed(struct{}) Fixed {
	return Fixed{
		Looks:   view.Looks,
		Layouts: []Named{{"separate", "three files, one a plate"}, {"tall", "one tall file, three exposures"}, {"channels", "one colour file, a plate a channel"}, {"pages", "one TIFF of three pages, a plate each"}},
		Measure: stack.MeasureSized, Cautions: cautions, Version: label.Tool(), Ranges: ranges(),
	}
}

func ranges() map[string][2]float64 {
	out := map[string][2]float64{}
	for place, r := range session.Ranges() {
		out[place] = [2]float64{r.Low, r.High}
	}
	return out
}

// cautions stand where the work can hurt someone.
var cautions = []string{
	"UV lamps harm eyes and skin: do not look into the light, cover skin, and air the room where a lamp makes ozone.",
	"Dichromate sensitisers are toxic, carcinogenic and sensitising, and restricted in many places; treat diazo sensitisers by their data sheet.",
	"Dry pigments, those with lead, mercury, cadmium, cobalt or nickel above all: raise no dust, work wet or with a fitted respirator.",
	"Hot water scalds, and glass under vacuum can implode.",
	"Follow the safety data sheet, local rules and licensed practice; this page replaces none of them.",
}

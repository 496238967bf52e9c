package model

import (
	"fmt"
	"math"

	"threeply/proof/filter"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// Plates are the scans and what was made of them.
type Plates struct {
	Layout    string  `json:"layout"`
	TallOrder string  `json:"tallOrder"`
	Ask       bool    `json:"ask"`
	Split     bool    `json:"split"`
	Plates    []Plate `json:"plates"`
	Key       string  `json:"key"`
}

// Plate is one, by its filter.
type Plate struct {
	Filter        string   `json:"filter"`
	Printer       string   `json:"printer"`
	Source        int      `json:"source"`
	File          string   `json:"file"`
	W             int      `json:"w"`
	H             int      `json:"h"`
	Bits          int      `json:"bits"`
	PPI           float64  `json:"ppi"`
	Encoding      string   `json:"encoding"`
	ReadAs        string   `json:"readAs"` // the encoding that a person chose, "" where the file says it
	Polarity      string   `json:"polarity"`
	PolarityWords string   `json:"polarityWords"`
	Base          float64  `json:"base"`       // density of base and fog
	FromRebate    bool     `json:"fromRebate"` // it was read off the rebate, else off the picture's thinnest part
	Max           float64  `json:"max"`
	Gamma         float64  `json:"gamma"`
	Assumed       bool     `json:"assumed"` // nobody gave the gamma
	White         float64  `json:"white"`
	Black         float64  `json:"black"`
	Words         string   `json:"words"`
	Remarks       []string `json:"remarks"`
	Thumb         int      `json:"thumb"` // changes with the picture of the thumbnail
}

type platesOn struct {
	layout  string
	asked   bool
	split   bool
	key     string
	sources [3]session.Source
	assign  [3]int
	opened  int
	by      string // what the films rest on
}

func onPlates(in Input) platesOn {
	s := in.Session
	return platesOn{s.Layout, in.Asked, s.Split, s.Key, s.Sources, s.Assign, in.Opened, s.Neutral.By}
}

func makePlates(on platesOn) Plates {
	out := Plates{Layout: on.layout, TallOrder: "bgr", Ask: on.asked, Split: on.split, Plates: []Plate{}, Key: on.key}
	if on.layout == "tall" {
		var order [3]byte
		for f, source := range on.assign {
			order[source] = "rgb"[f]
		}
		out.TallOrder = string(order[:])
	}
	if on.sources[0].W == 0 {
		return out
	}
	for f, name := range session.Filters {
		i := on.assign[f]
		s := on.sources[i]
		p := Plate{
			Filter: name, Printer: filter.Filter(f).Printer().String(), Source: i, File: s.File, W: s.W, H: s.H, Bits: s.Bits, PPI: s.PPI,
			Encoding: s.Encoding, ReadAs: s.ChosenEncoding(), Polarity: "positive", Max: s.Max, Gamma: s.Film.Gamma,
			Assumed: s.Film.Gamma == session.DefaultGamma(s.Film.Negative),
			White:   s.Film.White, Black: s.Film.Black, Remarks: append([]string{}, s.Remarks...), Thumb: 3*on.opened + i,
		}
		if s.Film.Negative {
			p.Polarity = "negative"
		}
		p.Base, p.FromRebate = s.BaseFog()
		p.PolarityWords = fmt.Sprintf("taken for a %s, %s", p.Polarity, surenessWords(s.Sure))
		if s.Overruled {
			p.PolarityWords = "a " + p.Polarity + ", as you set it"
		}
		p.Words = on.contrastWords(name, s.Film)
		out.Plates = append(out.Plates, p)
	}
	return out
}

// contrastWords says of a plate how much of the scene it holds, and how its contrast
// compares with the green plate's: by γ where that was measured or set; by the ends of
// the pictures where each plate is taken by itself; else nobody knows.
func (on *platesOn) contrastWords(name string, film tone.Film) string {
	green := on.sources[on.assign[1]].Film
	switch on.by {
	case session.ByGreys, session.ByScale, session.ByHand:
		if name != "green" {
			return ratioWords(film.Gamma / green.Gamma)
		}
	case session.ByLight:
		if name != "green" {
			return ""
		}
	}
	return rangeWords(name, film.Range(), green.Range())
}

// rangeWords says how much of the scene a plate holds, or how it compares with the
// green one; both ranges are in logarithms to base 10.
func rangeWords(filter string, plate, green float64) string {
	switch ratio := plate / green; {
	case filter == "green":
		return fmt.Sprintf("holds %.1f stops of the scene", plate/math.Log10(2))
	case !(ratio > 0) || math.IsInf(ratio, 0):
		return "its contrast cannot be compared with the green plate's"
	default:
		return ratioWords(ratio)
	}
}

// ratioWords says how a contrast compares with the green plate's.
func ratioWords(ratio float64) string {
	if math.Abs(ratio-1) < 0.02 {
		return "as contrasty as the green plate"
	}
	return fmt.Sprintf("%.0f %% %s contrast than the green plate", 100*math.Abs(ratio-1), map[bool]string{true: "more", false: "less"}[ratio > 1])
}

func surenessWords(sure float64) string {
	switch {
	case sure >= 0.9:
		return "sure"
	case sure >= 0.6:
		return "fairly sure"
	}
	return "a guess: look at it"
}

//go:build js

package main

import (
	"fmt"
	"math"

	"threeply/proof/pigment"
	"threeply/proof/session"
)

type plateModel struct {
	Filter        string   `json:"filter"`
	Printer       string   `json:"printer"`
	Source        int      `json:"source"`
	File          string   `json:"file"`
	W             int      `json:"w"`
	H             int      `json:"h"`
	Bits          int      `json:"bits"`
	PPI           float64  `json:"ppi"`
	Encoding      string   `json:"encoding"`
	Polarity      string   `json:"polarity"`
	PolarityWords string   `json:"polarityWords"`
	Base          float64  `json:"base"`
	Max           float64  `json:"max"`
	Gamma         float64  `json:"gamma"`
	Assumed       bool     `json:"assumed"` // nobody gave the gamma
	White         float64  `json:"white"`
	Black         float64  `json:"black"`
	Words         string   `json:"words"`
	Remarks       []string `json:"remarks"`
	Thumb         int      `json:"thumb"`
}

// printerOf is the printer that a filter's plate makes.
func printerOf(filter int) pigment.Printer { return pigment.Printer(2 - filter) }

func (a *app) plateModels() []plateModel {
	out := []plateModel{}
	if !a.has() {
		return out
	}
	green := a.Sources[a.Assign[1]].Film.Range()
	for f, name := range session.Filters {
		i := a.Assign[f]
		s := a.Sources[i]
		m := plateModel{
			Filter: name, Printer: printerOf(f).String(), Source: i, File: s.File, W: s.W, H: s.H, Bits: s.Bits, PPI: s.PPI,
			Encoding: s.Encoding, Polarity: "positive", Base: s.Base, Max: s.Max, Gamma: s.Film.Gamma,
			Assumed: s.Film.Gamma == session.DefaultGamma(s.Film.Negative),
			White:   s.Film.White, Black: s.Film.Black, Remarks: append([]string{}, s.Remarks...), Thumb: 3*a.opened + i,
		}
		if s.Film.Negative {
			m.Polarity = "negative"
		}
		m.PolarityWords = fmt.Sprintf("taken for a %s, %s", m.Polarity, sureness(s.Sure))
		if s.Overruled {
			m.PolarityWords = "a " + m.Polarity + ", as you set it"
		}
		switch ratio := s.Film.Range() / green; {
		case name == "green":
			m.Words = fmt.Sprintf("holds %.1f stops of the scene", s.Film.Range()/math.Log10(2))
		case !(ratio > 0) || math.IsInf(ratio, 0):
			m.Words = "its contrast cannot be compared with the green plate's"
		case math.Abs(ratio-1) < 0.02:
			m.Words = "as contrasty as the green plate"
		default:
			m.Words = fmt.Sprintf("%.0f %% %s contrast than the green plate", 100*math.Abs(ratio-1), map[bool]string{true: "more", false: "less"}[ratio > 1])
		}
		out = append(out, m)
	}
	return out
}

func sureness(sure float64) string {
	switch {
	case sure >= 0.9:
		return "sure"
	case sure >= 0.6:
		return "fairly sure"
	}
	return "a guess: look at it"
}

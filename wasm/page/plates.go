//go:build js

package main

import (
	"fmt"
	"math"

	"threeply/proof/pigment"
	"threeply/proof/session"
)

type plateModel struct {
	Filter        string  `json:"filter"`
	Printer       string  `json:"printer"`
	Source        int     `json:"source"`
	File          string  `json:"file"`
	W             int     `json:"w"`
	H             int     `json:"h"`
	Bits          int     `json:"bits"`
	PPI           float64 `json:"ppi"`
	Encoding      string  `json:"encoding"`
	Polarity      string  `json:"polarity"`
	PolarityWords string  `json:"polarityWords"`
	Base          float64 `json:"base"`
	Max           float64 `json:"max"`
	Gamma         float64 `json:"gamma"`
	White         float64 `json:"white"`
	Black         float64 `json:"black"`
	Words         string  `json:"words"`
	Thumb         int     `json:"thumb"`
}

type registerModel struct {
	Rows         []registerRow `json:"rows"`
	Sentence     string        `json:"sentence"`
	Sign         string        `json:"sign"`
	LargestUm    float64       `json:"largestUm"`
	P95Um        float64       `json:"p95Um"`
	ThresholdUm  float64       `json:"thresholdUm"`
	EyeUm        float64       `json:"eyeUm"`
	ToleranceUm  float64       `json:"toleranceUm"`
	PrintWidthMm float64       `json:"printWidthMm"`
	ViewingMm    float64       `json:"viewingMm"`
	PxUm         float64       `json:"pxUm"`
	least        float64
}

type registerRow struct {
	Filter     string      `json:"filter"`
	Printer    string      `json:"printer"`
	Key        bool        `json:"key"`
	Found      foundModel  `json:"found"`
	Confidence float64     `json:"confidence"`
	Words      string      `json:"words"`
	Residual   residual    `json:"residualPx"`
	Offset     offsetModel `json:"offset"`
}

type foundModel struct {
	DXPx       float64 `json:"dxPx"`
	DYPx       float64 `json:"dyPx"`
	TurnDeg    float64 `json:"turnDeg"`
	StretchPct float64 `json:"stretchPct"`
	DXUm       float64 `json:"dxUm"`
	DYUm       float64 `json:"dyUm"`
}

type residual struct {
	Median float64 `json:"median"`
	P95    float64 `json:"p95"`
	Max    float64 `json:"max"`
}

type offsetModel struct {
	DXUm       float64 `json:"dxUm"`
	DYUm       float64 `json:"dyUm"`
	TurnDeg    float64 `json:"turnDeg"`
	StretchPct float64 `json:"stretchPct"`
	DXPx       float64 `json:"dxPx"`
	DYPx       float64 `json:"dyPx"`
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
			White: s.Film.White, Black: s.Film.Black, Thumb: 3*a.opened + i,
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

func (a *app) registerModel() registerModel {
	m := registerModel{Rows: []registerRow{}, PrintWidthMm: a.PrintWidth, ViewingMm: a.ViewingDist, ToleranceUm: a.Tolerance}
	if !a.has() {
		m.Sign, m.Sentence = "out", "Open three plates first."
		return m
	}
	mis := a.Misregister()
	m.Sentence, m.Sign, m.LargestUm, m.P95Um = mis.Sentence, mis.Sign, mis.Largest, mis.P95
	m.EyeUm, m.ThresholdUm, m.PxUm, m.least = a.EyeMicrons(), mis.Threshold, a.PixelMicrons(), mis.LeastConfident
	w, h := a.Frame()
	for f, name := range session.Filters {
		p := printerOf(f)
		i := a.Assign[f]
		found, o := a.Found[i], a.Offsets[p]
		parts := a.Register(i).Decompose(float64(w-1)/2, float64(h-1)/2)
		row := registerRow{
			Filter: name, Printer: p.String(), Key: name == a.Key, Confidence: found.Confidence, Words: found.Words,
			Residual: residual{found.Median, found.P95, found.Max},
			Found: foundModel{parts.DX, parts.DY, parts.Turn, 100 * (math.Sqrt(math.Abs(parts.StretchX*parts.StretchY)) - 1),
				parts.DX * m.PxUm, parts.DY * m.PxUm},
			Offset: offsetModel{o.DX, o.DY, o.Turn, o.Stretch, o.DX / m.PxUm, o.DY / m.PxUm},
		}
		if row.Key {
			row.Words = "the key: the others lie against it"
		}
		m.Rows = append(m.Rows, row)
	}
	return m
}

// Package sessiontest has sessions for tests.
package sessiontest

import (
	"strings"

	"threeply/proof/affine"
	"threeply/proof/coating"
	"threeply/proof/film"
	"threeply/proof/negative"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/survey"
	"threeply/proof/testsheet"
	"threeply/proof/workshop"
)

// Opened is the session of three negatives that were found against the green one.
func Opened() session.State {
	s := session.New()
	for i, f := range session.Filters {
		s.Sources[i] = session.Source{File: f + ".tif", SHA256: strings.Repeat([]string{"a", "b", "c"}[i], 64), W: 1000 + i, H: 700}
		s.Sources[i].Film.Gamma = 0.8
		s.Sources[i].Film.Negative = true
		s.Sources[i].Film.White, s.Sources[i].Film.Black = 1.6, 0.3
	}
	s.Registered, s.FoundKey = "auto", 1
	s.Found[0] = session.Found{Matrix: affine.Compose(affine.Parts{DX: 4, DY: -3, Turn: 0.2, StretchX: 1.002, StretchY: 1.002}, 500, 350), Confidence: 0.9}
	s.Found[1].Confidence = 1
	s.Found[2] = session.Found{Matrix: affine.Translate(-2, 5), Confidence: 0.9}
	s.Survey[0], s.Survey[2] = Surveyed(0.05), Surveyed(0.05)
	return s
}

// Surveyed is the survey of one of Opened's plates: measured everywhere, and everywhere
// off by so many pixels to the right.
func Surveyed(off float64) survey.Map {
	m := survey.New([4]int{20, 20, 980, 680}, 96)
	m.Cells = strings.Repeat(string(survey.Measured), len(m.Cells))
	for i := range m.Cells {
		m.DX[i], m.Within[i] = off, 0.05
	}
	return m
}

// Marked is Opened with all else that a session can hold: marks, a local register, a
// palette and a paper of its own, an identity, a note and a decision. What it names is invented.
func Marked() session.State {
	s := Opened()
	s.Title, s.Layout = "Harbour at dusk", "separate"
	for n, at := range [][2]float64{{100, 90}, {800, 600}} {
		red, blue := s.Found[0].Matrix, s.Found[2].Matrix
		rx, ry := red.Apply(at[0], at[1])
		bx, by := blue.Apply(at[0], at[1])
		s.Marks = append(s.Marks, session.Pinned{N: n + 1, Weight: 1, At: [3]session.Pin{
			{Set: true, X: rx, Y: ry, Certainty: 0.8, Proposed: true},
			{Set: true, X: at[0], Y: at[1], Certainty: 1},
			{Set: true, X: bx, Y: by, Certainty: 1},
		}})
	}
	s.Local[0].W, s.Local[0].H, s.Local[0].CX[0] = 1001, 700, 1.5
	s.Outvoted, s.Tones = [3]float64{0.02, 0, 0.01}, [3]float64{0.8, 0, 0.7}
	s.Sources[2].Remarks = []string{"the file holds 2 pictures; the first was taken"}
	own, _ := pigment.PaletteByID("earth")
	own.ID, own.Name, own.Cyan.Load = "own-1", "Earth, own", 1.5
	own.Magenta.Faded = &pigment.Faded{Dose: 12, Left: 0.6}
	paper, _ := stack.PaperByID("rag")
	paper.ID, paper.Name = "paper-1", "Old ledger"
	s.OwnPalettes, s.OwnPapers = []pigment.Palette{own}, []stack.Paper{paper}
	s.Palette, s.Paper = own.ID, paper.ID
	s.Printed = []session.Printed{PrintedSheet("Earth")}
	s.TestSheet = s.Printed[0].Code
	s.Offsets[2] = session.Offset{DX: 120, Turn: 0.1}
	s.Way = relief.Way{Straight: true, Range: 1.3, Stops: [3]float64{0, 0.1, -0.2}}
	doubts := spread.Usual
	doubts.Amount = 0.2
	s.Unknowns = &doubts
	setup := negative.Usual
	setup.PPI, setup.Film = 720, film.Film{Kind: film.Inkjet, Measured: film.UV, Max: 2.3, Table: []film.Step{{Code: 1}, {Code: 0.4, Density: 1.1}, {Code: 0, Density: 2.3}}}
	setup.Dots = film.Dots{Table: []film.Tint{{}, {Film: 0.5, Print: 0.64}, {Film: 1, Print: 1}}, Least: 0.03, Most: 0.96, Holds: 30}
	bench := workshop.Usual
	bench.Layers[0] = workshop.Sensitised{Exposure: 140, Sensitiser: "diazidostilbene", Strength: 0.8, Coat: coating.Recipe{Pigment: 2, Gelatine: 8, Sugar: 3, Wet: 0.5}}
	s.Negatives, s.Workshop = &setup, &bench
	s.Identity = session.Identity{Number: "1937.0412 a–c", Creator: "Ida Marten", Created: "about 1937", Place: "Norhaven", Collection: "Harbour Board", Description: "Boats at the quay", Rights: "No known rights"}
	s.PlateIdentities[1] = session.PlateIdentity{Letter: "b", Condition: "cleaned; a crack at the lower left"}
	s.Notes = []session.Note{{N: 1, Source: 1, X: 300, Y: 200, Title: "Sails", Text: "Warmer than the hull?", By: "IM", At: "2026-03-02T10:20:00Z", State: session.NoteOpen, Seen: s.Shown()}}
	s.Points = []session.Point{{N: 1, Source: 1, X: 310, Y: 190}, {N: 3, Source: 0, X: 20, Y: 30}}
	chosen := s.Shown()
	s.Decision = session.Decision{Choice: "Earth, on ledger paper", Reason: "The hull is right.", By: "IM", Date: "2026-03-02", Questions: "Is the sky stained?", Seen: &chosen}
	s.Held = []session.HeldPrint{s.Hold("Earth on ledger")}
	s.Names = "{number}-{title}-{what}"
	return s
}

// PrintedSheet is a test sheet of one patch that was printed, of a palette of that name.
func PrintedSheet(palette string) session.Printed {
	const plan = `{"patches":[{"id":"A1","use":"fit","ground":"white","logE":{"yellow":-0.35,"magenta":null,"cyan":null}}]}`
	sheet, _, err := testsheet.Read([]byte(plan))
	if err != nil {
		panic(err)
	}
	return session.Printed{Code: sheet.Code(), Palette: palette, At: "2026-03-02T10:20:00Z", Plan: plan}
}

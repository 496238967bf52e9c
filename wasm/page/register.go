//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"threeply/proof/command"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/proof/warp"
)

type registerModel struct {
	Rows         []registerRow  `json:"rows"`
	Sentence     string         `json:"sentence"`
	Sign         string         `json:"sign"`
	SignWords    string         `json:"signWords"`
	Judged       bool           `json:"judged"` // false where what register leaves is not known
	LargestUm    float64        `json:"largestUm"`
	PlacesP95Um  float64        `json:"placesP95Um"`
	PlacesMaxUm  float64        `json:"placesMaxUm"`
	MovedUm      float64        `json:"movedUm"`
	ApartPx      float64        `json:"apartPx"`
	Stars        int            `json:"stars"`
	Guideline    string         `json:"guideline"`
	ThresholdUm  float64        `json:"thresholdUm"`
	EyeUm        float64        `json:"eyeUm"`
	PressUm      float64        `json:"pressUm"` // of an offset press, to compare with
	ToleranceUm  float64        `json:"toleranceUm"`
	PrintWidthMm float64        `json:"printWidthMm"`
	ViewingMm    float64        `json:"viewingMm"`
	PxUm         float64        `json:"pxUm"`
	Proposal     *proposalModel `json:"proposal"`
	LocalUsed    bool           `json:"localUsed"` // for one plate at least
	Grain        string         `json:"grain"`
	Bench        string         `json:"bench"`
	least        float64
}

type registerRow struct {
	Filter     string       `json:"filter"`
	Printer    string       `json:"printer"`
	Source     int          `json:"source"`
	Key        bool         `json:"key"`
	Way        place.Way    `json:"way"`
	Polarity   string       `json:"polarity"`
	Found      foundModel   `json:"found"`
	NotFound   bool         `json:"notFound"` // it was looked for, and no figure of Found is a measurement
	Pose       session.Pose `json:"pose"`
	PoseWhy    string       `json:"poseWhy"` // why it cannot be placed by hand, or ""
	Confidence float64      `json:"confidence"`
	Words      string       `json:"words"`
	Left       leftover     `json:"left"`
	Local      localModel   `json:"local"`
	Offset     offsetModel  `json:"offset"`
	Locked     bool         `json:"locked"`
	Bench      bool         `json:"bench"` // the printer lays the others against it
	Against    againstModel `json:"against"`
}

type foundModel struct {
	DXPx       float64 `json:"dxPx"`
	DYPx       float64 `json:"dyPx"`
	TurnDeg    float64 `json:"turnDeg"`
	StretchPct float64 `json:"stretchPct"`
	AcrossPct  float64 `json:"acrossPct"` // the same across and down
	DownPct    float64 `json:"downPct"`
	ShearDeg   float64 `json:"shearDeg"` // what is missing to a right angle
	Mirrored   bool    `json:"mirrored"`
	DXUm       float64 `json:"dxUm"`
	DYUm       float64 `json:"dyUm"`
}

// leftover is what register leaves at a plate, in pixels of the key.
type leftover struct {
	residual
	Known    bool    `json:"known"`
	Marks    int     `json:"marks"`
	Measured bool    `json:"measured"` // by what register measured too, not by marks alone
	Local    bool    `json:"local"`
	Outvoted float64 `json:"outvoted"` // share of the places that lie elsewhere
	Stars    int     `json:"stars"`
}

type localModel struct {
	Have   bool     `json:"have"`
	Used   bool     `json:"used"`
	Worth  bool     `json:"worth"`
	Says   string   `json:"says"`
	Before residual `json:"before"`
	After  residual `json:"after"`
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
	AcrossPct  float64 `json:"acrossPct"`
	DXPx       float64 `json:"dxPx"`
	DYPx       float64 `json:"dyPx"`
}

// againstModel is how the layer lies against the one of the bench.
type againstModel struct {
	DXUm    float64 `json:"dxUm"`
	DYUm    float64 `json:"dyUm"`
	WorstUm float64 `json:"worstUm"`
	Corner  string  `json:"corner"` // where it is worst, in words
}

// proposalModel is the plate that would make the best key, of the register as
// it stands.
type proposalModel struct {
	Key string `json:"key"`
	Why string `json:"why"`
}

// proposed is what was proposed with a register.
type proposed struct {
	registration.Proposal
	of     [3]session.Found
	assign [3]int
}

func (a *app) proposalModel() *proposalModel {
	p := a.proposed
	if p.Key == "" || p.of != a.Found || p.assign != a.Assign {
		return nil
	}
	return &proposalModel{p.Key, p.Why}
}

func (a *app) registerModel() registerModel {
	m := registerModel{
		Rows: []registerRow{}, PrintWidthMm: a.PrintWidth, ViewingMm: a.ViewingDist, ToleranceUm: a.Tolerance,
		Guideline: verdict.Guideline, Grain: a.Grain, Bench: a.Bench,
	}
	if !a.has() {
		m.Sign, m.Sentence = "unsure", "Open three plates first."
		return m
	}
	mis := verdict.Of(&a.State)
	m.Sentence, m.Sign, m.SignWords, m.Judged = mis.Sentence, mis.Sign, verdict.SignWords(mis.Sign), mis.Unsure == ""
	m.LargestUm, m.PlacesP95Um, m.PlacesMaxUm, m.MovedUm, m.ApartPx, m.Stars = mis.Largest, mis.PlacesP95, mis.PlacesLargest, mis.Moved, mis.Apart, mis.Stars
	m.EyeUm, m.ThresholdUm, m.PxUm, m.least = a.EyeMicrons(), mis.Threshold, a.PixelMicrons(), mis.LeastConfident
	m.PressUm = verdict.PressMicrons
	m.Proposal = a.proposalModel()
	for f := range session.Filters {
		row := a.registerRow(f)
		m.LocalUsed = m.LocalUsed || row.Local.Used
		m.Rows = append(m.Rows, row)
	}
	return m
}

// registerRow tells of the plate of filter f and of the layer that it makes.
func (a *app) registerRow(f int) registerRow {
	p, i, um := printerOf(f), a.Assign[f], a.PixelMicrons()
	w, h := a.Frame()
	found, o, rest, way := a.State.Found[i], a.Offsets[p], verdict.RestOf(&a.State, i), place.WayOf(&a.State, i)
	parts := place.Register(&a.State, i).Decompose(float64(w-1)/2, float64(h-1)/2)
	lies := place.PoseIn(parts)
	row := registerRow{
		Filter: session.Filters[f], Printer: p.String(), Source: i, Key: session.Filters[f] == a.Key, Way: way,
		Polarity: "positive", Pose: place.PoseOf(&a.State, i), Confidence: found.Confidence, Words: found.Words,
		Found: foundModel{lies.DX, lies.DY, lies.Turn, lies.Stretch, 100 * (parts.StretchX - 1), 100 * (math.Abs(parts.StretchY) - 1),
			math.Atan(parts.Shear) * 180 / math.Pi, lies.Mirrored, lies.DX * um, lies.DY * um},
		NotFound: way == place.WayFound && found.Confidence < register.FoundFrom,
		Left:     leftover{residualOf(rest.Residual), rest.Known, rest.Marks, rest.Measured, rest.Local, rest.Outvoted, 0},
		Local:    a.localModel(i),
		Offset:   offsetModel{o.DX, o.DY, o.Turn, o.Stretch, o.Across, o.DX / um, o.DY / um},
		Locked:   a.Locked[p], Bench: p == a.BenchPrinter(),
	}
	if rest.Known && rest.Outvoted <= register.Moved {
		row.Left.Stars = verdict.Stars(rest.Median)
	}
	if a.Sources[i].Film.Negative {
		row.Polarity = "negative"
	}
	switch way {
	case place.WayKey:
		row.Words = "The key: the others lie against it."
		row.PoseWhy = "the key lies still; the others are placed against it"
	case place.WayNone:
		row.Words = "Not registered yet: it lies as it was scanned."
	case place.WayFound:
		if !place.LocalFits(&a.State) {
			row.Words = "Its figures were measured against the " + place.FoundKey(&a.State) + " plate, the key of then. Register again for figures against this key."
		}
	case place.WayHand:
		row.Words = "Placed by hand: nothing was measured."
	case place.WayMarks:
		row.Words = fmt.Sprintf("Laid by marks: %d.", rest.Marks)
		row.PoseWhy = "it lies by marks; choose another way of registering first"
	case place.WayBoth:
		row.Words = fmt.Sprintf("Laid by register and by marks together: %d.", rest.Marks)
		row.PoseWhy = "it lies by marks; choose another way of registering first"
	}
	if words := verdict.Opposed(&a.State, i); words != "" {
		row.Words += " But " + words
	}
	if !row.Bench {
		at := verdict.AgainstBench(&a.State, p)
		row.Against = againstModel{at.DX, at.DY, at.Worst, corner(at.X, at.Y)}
	}
	return row
}

func corner(x, y float64) string {
	return map[bool]string{true: "lower", false: "upper"}[y > 0] + " " + map[bool]string{true: "right", false: "left"}[x > 0]
}

func residualOf(r warp.Residual) residual { return residual{r.Median, r.P95, r.Max} }

func (a *app) localModel(i int) localModel {
	l := &a.State.Local[i]
	return localModel{
		Have: verdict.NoLocal(&a.State, i) == "" && l.W != 0, Used: place.Local(&a.State, i) != nil, Worth: l.Worth(), Says: verdict.LocalSays(&a.State, i),
		Before: residualOf(l.Before), After: residualOf(l.After),
	}
}

// jsRegistered takes what the worker's register found.
func (a *app) jsRegistered(text string, first bool) any {
	var r registration.Registration
	err := json.Unmarshal([]byte(text), &r)
	if err == nil {
		for i := range r.Left { // of plates that were not measured again, what was known stays
			if r.Left[i] == nil && a.left.of[i] == r.Found[i] {
				r.Left[i] = a.left.fields[i]
			}
		}
		c := command.Registered{Found: r.Found, Local: r.Local, Outvoted: r.Outvoted, Tones: r.Tones}
		if first {
			err = a.History.Begin(c)
		} else {
			err = a.History.Do(c, "")
		}
	}
	if err == nil {
		a.messages = slices.DeleteFunc(a.messages, func(m message) bool { return m.Kind == "error" }) // of what did not work before
		a.left.take(r)
		if r.Proposal.Key == "" { // measured again from where they lie, the plates are as sharp as before
			r.Proposal = a.proposed.Proposal
		}
		a.proposed = proposed{r.Proposal, r.Found, a.Assign}
		err = a.recompute()
	}
	if err != nil {
		a.say("error", a.sentence(err))
	}
	a.changed()
	return answer(err)
}

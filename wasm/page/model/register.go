package model

import (
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/verdict"
)

// Registering is how the plates lie against each other.
type Registering struct {
	Registered string   `json:"registered"` // "none" or "auto"
	Register   Register `json:"register"`
	leastSure  float64  // confidence of the least certain plate
}

// Register is what is thought of it, plate by plate and of all together.
type Register struct {
	Verdict
	Rows         []Row     `json:"rows"`
	Guideline    string    `json:"guideline"`
	EyeUm        float64   `json:"eyeUm"`
	PressUm      float64   `json:"pressUm"` // of an offset press, to compare with
	ToleranceUm  float64   `json:"toleranceUm"`
	PrintWidthMm float64   `json:"printWidthMm"`
	ViewingMm    float64   `json:"viewingMm"`
	PxUm         float64   `json:"pxUm"`
	Proposal     *Proposal `json:"proposal"`
	LocalUsed    bool      `json:"localUsed"` // for one plate at least
	Grain        string    `json:"grain"`
	Bench        string    `json:"bench"` // the layer that the printmaker lays the others against
}

// Verdict is what is thought of the set.
type Verdict struct {
	Sentence    string  `json:"sentence"`
	Sign        string  `json:"sign"`
	SignWords   string  `json:"signWords"`
	Judged      bool    `json:"judged"` // false where what register leaves is not known
	LargestUm   float64 `json:"largestUm"`
	PlacesP95Um float64 `json:"placesP95Um"`
	PlacesMaxUm float64 `json:"placesMaxUm"`
	MovedUm     float64 `json:"movedUm"`
	ApartPx     float64 `json:"apartPx"`
	Stars       int     `json:"stars"`
	ThresholdUm float64 `json:"thresholdUm"`
}

// Proposal is the plate that would make the best key, of the register as it stands.
type Proposal struct {
	Key string `json:"key"`
	Why string `json:"why"`
}

type registerOn struct {
	session  session.State // see geometryOf
	proposal *Proposal
}

func onRegister(in Input) registerOn { return registerOn{geometryOf(in.Session), in.Proposal} }

func makeRegister(on registerOn) Registering {
	s := &on.session
	r := Register{
		Rows: []Row{}, Guideline: verdict.Guideline, PrintWidthMm: s.PrintWidth, ViewingMm: s.ViewingDist, ToleranceUm: s.Tolerance,
		Grain: s.Grain, Bench: s.Bench,
	}
	if !open(s) {
		r.Sign, r.Sentence = "unsure", "Open three plates first."
		return Registering{Registered: s.Registered, Register: r}
	}
	v := verdict.Of(s)
	r.Verdict = Verdict{
		Sentence: v.Sentence, Sign: v.Sign, SignWords: verdict.SignWords(v.Sign), Judged: v.Unsure == "",
		LargestUm: v.Largest, PlacesP95Um: v.PlacesP95, PlacesMaxUm: v.PlacesLargest, MovedUm: v.Moved, ApartPx: v.Apart,
		Stars: v.Stars, ThresholdUm: v.Threshold,
	}
	r.EyeUm, r.PxUm, r.PressUm, r.Proposal = s.EyeMicrons(), s.PixelMicrons(), verdict.PressMicrons, on.proposal
	for f := range session.Filters {
		r.LocalUsed = r.LocalUsed || place.Local(s, s.Assign[f]) != nil
		r.Rows = append(r.Rows, makeRow(s, f))
	}
	return Registering{s.Registered, r, v.LeastConfident}
}

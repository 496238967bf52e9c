package model

import (
	"slices"

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
	Next         string      `json:"next"` // what can be done where they are out of register, else ""
	OnBench      LaidOnBench `json:"onBench"`
	Rows         []Row       `json:"rows"`
	Guideline    string      `json:"guideline"`
	EyeUm        float64     `json:"eyeUm"`
	PressUm      float64     `json:"pressUm"` // of an offset press, to compare with
	ToleranceUm  float64     `json:"toleranceUm"`
	PrintWidthMm float64     `json:"printWidthMm"`
	ViewingMm    float64     `json:"viewingMm"`
	PxUm         float64     `json:"pxUm"`
	Proposal     *Proposal   `json:"proposal"`
	LocalUsed    bool        `json:"localUsed"` // for one plate at least
	Grain        string      `json:"grain"`
	Bench        string      `json:"bench"` // the layer that the printmaker lays the others against
}

// Verdict is what is thought of the three scans as they lie: nothing of the print counts.
type Verdict struct {
	Sentence  string   `json:"sentence"`
	Sign      string   `json:"sign"`
	SignWords string   `json:"signWords"`
	Measured  bool     `json:"measured"` // false where no figure tells how far they lie apart
	Stars     int      `json:"stars"`
	TypicalPx float64  `json:"typicalPx"`
	P95Px     float64  `json:"p95Px"`
	LargestPx float64  `json:"largestPx"`
	PlateUm   float64  `json:"plateUm"` // one pixel of the key on the plate, 0 where the scan has no resolution
	Coverage  float64  `json:"coverage"`
	Missing   []string `json:"missing"` // parts of the picture where hardly anything was measured, as “in the upper third”
	Parted    bool     `json:"parted"`
}

// LaidOnBench is what is thought of the offsets on the print.
type LaidOnBench struct {
	Sentence    string  `json:"sentence"`
	Sign        string  `json:"sign"`
	LargestUm   float64 `json:"largestUm"`
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
		r.Sign, r.Sentence, r.Missing = "unsure", "Open three plates first.", []string{}
		return Registering{Registered: s.Registered, Register: r}
	}
	v, bench := verdict.OfScan(s), verdict.OfPrint(s)
	r.Verdict = Verdict{
		Sentence: v.Sentence, Sign: v.Sign, SignWords: verdict.SignWords(v.Sign), Measured: v.Measured, Stars: v.Stars,
		TypicalPx: v.Typical, P95Px: v.P95, LargestPx: v.Largest, PlateUm: v.Pixel, Coverage: v.Coverage, Missing: append([]string{}, v.Missing...), Parted: v.Parted,
	}
	r.OnBench = LaidOnBench{bench.Sentence, bench.Sign, bench.Largest, bench.Threshold}
	r.EyeUm, r.PxUm, r.PressUm, r.Proposal = s.EyeMicrons(), s.PixelMicrons(), verdict.PressMicrons, on.proposal
	for f := range session.Filters {
		r.LocalUsed = r.LocalUsed || place.Local(s, s.Assign[f]) != nil
		r.Rows = append(r.Rows, makeRow(s, f))
	}
	r.Next = r.next()
	return Registering{s.Registered, r, v.LeastConfident}
}

// next says what can be done where the plates are out of register, "" where they are not.
func (r *Register) next() string {
	bends := func(row Row) bool { return row.Local.Worth && !row.Local.Used }
	switch {
	case r.Sign != "out":
		return ""
	case slices.ContainsFunc(r.Rows, bends):
		return "Next: switch the local register on, under “A smooth bend”."
	}
	return "Next: go to the worst place (key w), and pin marks there, under “Marks”."
}

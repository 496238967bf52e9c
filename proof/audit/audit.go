// Package audit says of a set of plates what one wants to know before relying on it:
// whether its neutrals will print neutral and at which tones not, whether unequal
// contrast of the plates can be corrected, what the assumptions on the light of the
// scene make of it, and whether the scans are fit.
//
// Plates are in the order of filter.All, places are pixels of the key.
package audit

import (
	"math"

	"threeply/proof/levels"
	"threeply/proof/light"
	"threeply/proof/session"
)

// Audit is what Of says.
type Audit struct {
	Greys *Greys `json:"greys"` // null where no grey is pointed at
	Light Light  `json:"light"`
	Scans Scans  `json:"scans"`
	Why   string `json:"why"` // why the greys that the session has cannot be read any more, "" where they can
}

// Light is what the assumptions on the light of the scene make of the picture.
type Light struct {
	Estimates []Estimate `json:"estimates"`
	Apart     *float64   `json:"apart"` // how far they disagree, stops; null where fewer than two tell anything
	Unknown   bool       `json:"unknown"`
	Words     string     `json:"words"`
}

// Estimate is what one of them makes of it.
type Estimate struct {
	ID    string     `json:"id"`
	Name  string     `json:"name"`
	Says  string     `json:"says"`  // what it supposes, a clause
	Known bool       `json:"known"` // false where it can tell nothing
	Stops [3]float64 `json:"stops"` // exposure of a neutral against the green plate
}

// Of looks at a session's plates as they lie. blur is how far the sharpest edges of
// each source are spread, in pixels, as overlay.Blur measures it; 0 where that is not
// known. It fails only on a state that session's own check has not seen.
func Of(s *session.State, planes levels.Planes, blur [3]float64) (Audit, error) {
	_, c := levels.ByLight(s, planes, light.Default)
	out := Audit{Light: lightOf(c), Scans: scansOf(s, blur)}
	if len(s.Neutral.Greys) == 0 {
		return out, nil
	}
	_, m, err := levels.Again(s, planes, s.Neutral)
	if err != nil {
		out.Why = err.Error()
		return out, nil
	}
	out.Greys, err = greysOf(s, m)
	return out, err
}

func lightOf(c light.Comparison) Light {
	out := Light{Estimates: []Estimate{}, Unknown: c.Unknown(), Words: c.Words}
	for _, e := range c.Estimates {
		a, _ := light.AssumptionByID(e.ID)
		out.Estimates = append(out.Estimates, Estimate{e.ID, a.Name, a.Says, e.Known, e.Stops})
	}
	if !math.IsInf(c.Apart, 1) {
		out.Apart = &c.Apart
	}
	return out
}

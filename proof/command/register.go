package command

import (
	"fmt"

	"threeply/proof/affine"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/survey"
	"threeply/proof/warp"
)

// Key chooses the plate that gives the picture its frame, by its filter.
type Key struct {
	Filter string `json:"filter" like:"key"`
}

func (c Key) Apply(s *session.State) error { s.Key = c.Filter; return nil }
func (Key) Words() string                  { return "key" }

// Registered takes what the automatic register found, all by source. Levels, where
// given, are the films that were found with it; films that the user measured, set or
// chose stay, and those of plates whose polarity was set otherwise meanwhile.
type Registered struct {
	Found    [3]session.Found `json:"found" like:"found"`
	FoundKey int              `json:"found_key" like:"assign"` // source that the others were registered to
	Local    [3]warp.Local    `json:"local" like:"local"`
	Outvoted [3]float64       `json:"outvoted" like:"outvoted"`
	Tones    [3]float64       `json:"tones" like:"tones"`
	Survey   [3]survey.Map    `json:"survey,omitzero" like:"survey"`
	Levels   *Films           `json:"levels,omitempty"`
	ByFound  bool             `json:"by_found,omitempty"` // from then on the plates lie by what was found, if they lay by marks before
}

func (c Registered) Apply(s *session.State) error {
	if err := checkSource(c.FoundKey); err != nil {
		return err
	}
	if key := c.Found[c.FoundKey]; key.Matrix != affine.Identity && !key.ByHand {
		return fmt.Errorf("the plates cannot have been registered to source %d, which does not lie still itself", c.FoundKey)
	}
	s.Found, s.FoundKey, s.Local, s.Registered, s.Carried = c.Found, c.FoundKey, c.Local, "auto", false
	s.Outvoted, s.Tones, s.Survey = c.Outvoted, c.Tones, c.Survey
	if c.ByFound {
		s.By = session.ByRegister
	}
	if c.Levels != nil && !s.Neutral.ByUser() && c.Levels.fit(s) {
		return c.Levels.Apply(s)
	}
	return nil
}
func (Registered) Words() string { return "register" }

// Place lays a plate where the user wants it against the key. What a hand does not
// set, a shear and an uneven stretch, stays as it was found with some confidence.
type Place struct {
	Source int          `json:"source" like:"assign"`
	Pose   session.Pose `json:"pose" like:"pose"`
}

func (c Place) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	f := s.Found[c.Source]
	return byHand(s, c.Source, c.Pose, f.ByHand || f.Confidence >= register.FoundFrom)
}
func (Place) Words() string { return "place of a plate" }

// Centre lays a plate as it was scanned, its centre on the key's.
type Centre struct {
	Source int `json:"source" like:"assign"`
}

func (c Centre) Apply(s *session.State) error {
	if err := checkSource(c.Source); err != nil {
		return err
	}
	w, h := s.Frame()
	src := s.Sources[c.Source]
	return byHand(s, c.Source, session.Pose{DX: float64(src.W-w) / 2, DY: float64(src.H-h) / 2}, false)
}
func (Centre) Words() string { return "place of a plate" }

// byHand lays source i as p says. keepUneven is that of place.Posed.
func byHand(s *session.State, i int, p session.Pose, keepUneven bool) error {
	if i == s.KeySource() {
		return fmt.Errorf("the key plate lies still: the others are placed against it")
	}
	w, h := s.Frame()
	if !session.Within(p.DX, -2*float64(w), 2*float64(w)) || !session.Within(p.DY, -2*float64(h), 2*float64(h)) || !session.Within(p.Turn, -180, 180) || !session.Within(p.Stretch, -75, 300) {
		return fmt.Errorf("a plate placed %g, %g px off, turned by %g° and stretched by %g %%: that lies off the picture", p.DX, p.DY, p.Turn, p.Stretch)
	}
	m := place.Posed(s, i, p, keepUneven)
	s.Found[i] = session.Found{Matrix: m.Mul(s.Found[s.KeySource()].Matrix), Words: "placed by hand", ByHand: true, Twin: s.Found[i].Twin, Alike: s.Found[i].Alike}
	s.Local[i], s.Survey[i] = warp.Local{}, survey.Map{}
	s.Registered = "auto"
	if s.FoundKey < 0 { // nothing was found: the key's pixels are the frame from now on
		s.FoundKey = s.KeySource()
	}
	return nil
}

// Local switches the local register on or off: of the plate of a filter, or of all
// where none is named.
type Local struct {
	Filter string `json:"filter,omitempty" like:"plate"`
	On     bool   `json:"on"`
}

func (c Local) Apply(s *session.State) error {
	if c.Filter == "" {
		s.LocalOn, s.LocalOff = c.On, [3]bool{}
		return nil
	}
	f, err := filterOf(c.Filter)
	if err != nil {
		return err
	}
	for i := range s.LocalOff {
		s.LocalOff[i] = s.LocalOff[i] || !s.LocalOn
	}
	s.LocalOff[s.Assign[f]] = !c.On
	if s.LocalOn = s.LocalOff != [3]bool{true, true, true}; !s.LocalOn {
		s.LocalOff = [3]bool{}
	}
	return nil
}
func (Local) Words() string { return "local register" }

// RegisterBy chooses what the plates lie by: session.ByRegister, ByMarks or ByBoth,
// and for the last, where it is given, the share of the marks.
type RegisterBy struct {
	ID    string   `json:"id" like:"register_by"`
	Value *float64 `json:"value,omitempty" like:"mark_share"`
}

func (c RegisterBy) Apply(s *session.State) error {
	s.By = c.ID
	if c.Value != nil {
		s.MarkShare = *c.Value
	}
	return nil
}
func (RegisterBy) Words() string { return "way of registering" }

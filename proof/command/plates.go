package command

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/warp"
)

// assign gives a filter another source; the plate that had it takes the
// filter's old one.
func assign(c Command, s *session.State) error {
	f := session.FilterIndex(c.Filter)
	if f < 0 || c.Source < 0 || c.Source > 2 {
		return fmt.Errorf("no plate “%s” or no source %d", c.Filter, c.Source)
	}
	other := slices.Index(s.Assign[:], c.Source)
	s.Assign[f], s.Assign[other] = s.Assign[other], s.Assign[f]
	return nil
}

// exposures says which exposure of a tall file is which plate: an order of r, g
// and b from the top.
func exposures(c Command, s *session.State) error {
	var of [3]int
	for i, filter := range "rgb" {
		of[i] = strings.IndexRune(c.Order, filter)
	}
	if len(c.Order) != 3 || slices.Min(of[:]) < 0 {
		return fmt.Errorf("no order “%s” of the exposures: give r, g and b from the top, such as bgr", c.Order)
	}
	s.Assign = of
	return nil
}

// polarity turns a film over: what was its white becomes its black.
func polarity(c Command, s *session.State) error {
	if c.Source < 0 || c.Source > 2 || (c.Polarity != "negative" && c.Polarity != "positive") {
		return fmt.Errorf("source %d cannot be “%s”: there are negative and positive", c.Source, c.Polarity)
	}
	s.Split = false
	f := &s.Sources[c.Source].Film
	if negative := c.Polarity == "negative"; negative != f.Negative {
		f.Negative = negative
		f.White, f.Black = f.Black, f.White
		f.Gamma = session.DefaultGamma(negative)
		s.Sources[c.Source].Overruled = !s.Sources[c.Source].Overruled
	}
	return nil
}

func gamma(c Command, s *session.State) error {
	if c.Source < 0 || c.Source > 2 {
		return fmt.Errorf("no source %d", c.Source)
	}
	s.Sources[c.Source].Film.Gamma = c.Value
	return nil
}

func registered(c Command, s *session.State) error {
	s.Found, s.Local, s.Registered = c.Found, c.Local, "auto"
	s.Outvoted, s.Tones = c.Outvoted, c.Tones
	return nil
}

// switchLocal turns the local register on or off: of the plate of c.Filter, or of
// all where none is named.
func switchLocal(c Command, s *session.State) error {
	if c.Filter == "" {
		s.LocalOn, s.LocalOff = c.On, [3]bool{}
		return nil
	}
	f := session.FilterIndex(c.Filter)
	if f < 0 {
		return fmt.Errorf("no plate “%s” to bend", c.Filter)
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

// placeByHand puts a plate where the user wants it, against what was found.
// What a hand does not set, a shear and an uneven stretch, stays as it was found
// with some confidence. The id "centre" lays the plate as it was scanned, its
// centre on the key's.
func placeByHand(c Command, s *session.State) error {
	i := c.Source
	centre := c.ID == "centre"
	if i < 0 || i > 2 || (c.Pose == nil && !centre) {
		return fmt.Errorf("no source %d to place, or no place given", i)
	}
	if i == s.KeySource() {
		return fmt.Errorf("the key plate lies still: the others are placed against it")
	}
	w, h := s.Frame()
	p := session.Pose{DX: float64(s.Sources[i].W-w) / 2, DY: float64(s.Sources[i].H-h) / 2}
	if !centre {
		p = *c.Pose
	}
	if !session.Within(p.DX, -2*float64(w), 2*float64(w)) || !session.Within(p.DY, -2*float64(h), 2*float64(h)) || !session.Within(p.Turn, -180, 180) || !session.Within(p.Stretch, -75, 300) {
		return fmt.Errorf("a plate placed %g, %g px off, turned by %g° and stretched by %g %%: that lies off the picture", p.DX, p.DY, p.Turn, p.Stretch)
	}
	keep := !centre && (s.Found[i].ByHand || s.Found[i].Confidence >= register.FoundFrom)
	m := place.Posed(s, i, p, keep)
	s.Found[i] = session.Found{Matrix: m.Mul(s.Found[s.KeySource()].Matrix), Words: "placed by hand", ByHand: true, Twin: s.Found[i].Twin, Alike: s.Found[i].Alike}
	s.Local[i] = warp.Local{}
	s.Registered = "auto"
	return nil
}

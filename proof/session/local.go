package session

import (
	"fmt"

	"threeply/proof/affine"
	"threeply/proof/register"
)

// LocalOf returns the smooth rest that is added to source i's matrix, or nil:
// it belongs to the automatic register against its own key.
func (s *State) LocalOf(i int) *register.Local {
	if !s.LocalOn || s.LocalOff[i] || s.By != ByRegister || !s.LocalFits() || s.Local[i].W == 0 || s.Found[i].ByHand {
		return nil
	}
	return &s.Local[i]
}

// switchLocal turns the local register on or off: of the plate of c.Filter, or of
// all where none is named.
func switchLocal(c Command, s *State) error {
	if c.Filter == "" {
		s.LocalOn, s.LocalOff = c.On, [3]bool{}
		return nil
	}
	f := FilterIndex(c.Filter)
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

// LocalFits tells whether the key is the one that was registered to.
func (s *State) LocalFits() bool {
	return s.Registered == "auto" && s.Found[s.KeySource()].Matrix == affine.Identity
}

// NoLocal says why source i can have no local register, "" where it can.
func (s *State) NoLocal(i int) string {
	switch way := s.Way(i); {
	case way == WayNone:
		return "the plates are not registered yet"
	case way == WayMarks || way == WayBoth || s.By != ByRegister:
		return "the plates lie by marks; it belongs to the automatic register"
	case way == WayHand:
		return "the plate was placed by hand; have it measured from where it lies first"
	case !s.LocalFits():
		return "it was found against another key; register again to this one"
	case way != WayKey && s.Local[i].W == 0:
		return "too few places agree to tell one, or it would fold the picture"
	}
	return ""
}

// LocalSays tells what the local register would do for source i, from places
// that it had not seen, or why there is none. It is "" for the key.
func (s *State) LocalSays(i int) string {
	if why := s.NoLocal(i); why != "" {
		return "No local register: " + why + "."
	}
	l := &s.Local[i]
	if l.W == 0 {
		return ""
	}
	left := fmt.Sprintf("At places that it had not seen it leaves %.3f px in place of %.3f (median)", l.After.Median, l.Before.Median)
	switch {
	case l.Worth():
		return left + ": the film has shrunk unevenly, and it is worth switching on."
	case l.After.Median < l.Before.Median:
		return left + ": hardly better, it only learns the noise. Leave it off."
	}
	return left + ": no better, it only learns the noise. Leave it off."
}

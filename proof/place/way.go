package place

import (
	"threeply/proof/session"
)

// Way is by what a plate lies where it lies.
type Way string

const (
	WayNone  Way = "none"  // as it was scanned
	WayKey   Way = "key"   // the others lie against it
	WayFound Way = "found" // by the automatic register
	WayHand  Way = "hand"  // by the user's hand
	WayMarks Way = "marks" // by marks alone
	WayBoth  Way = "both"  // by marks and the automatic register
)

// WayOf returns by what source i lies where it lies. The key itself may lie by
// hand in the frame that another key had.
func WayOf(s *session.State, i int) Way {
	marked := s.By != session.ByRegister
	switch {
	case i == s.KeySource() && (marked || !s.Found[i].ByHand):
		return WayKey
	case marked:
		if _, err := MarkFit(s, i); err == nil {
			if blends(s, i) {
				return WayBoth
			}
			return WayMarks
		}
	}
	switch {
	case s.Registered != "auto":
		return WayNone
	case s.Found[i].ByHand:
		return WayHand
	}
	return WayFound
}

// Laid tells whether every plate has a place against the key: found, set by
// hand, or given by marks. Whether it can be trusted is another question.
func Laid(s *session.State) bool {
	for i := range s.Sources {
		if WayOf(s, i) == WayNone {
			return false
		}
	}
	return true
}

package verdict

import (
	"fmt"

	"threeply/proof/place"
	"threeply/proof/session"
)

// NoLocal says why source i can have no local register, "" where it can.
func NoLocal(s *session.State, i int) string {
	switch way := place.WayOf(s, i); {
	case way == place.WayNone:
		return "the plates are not registered yet"
	case way == place.WayMarks || way == place.WayBoth || s.By != session.ByRegister:
		return "the plates lie by marks; it belongs to the automatic register"
	case way == place.WayHand:
		return "the plate was placed by hand; have it measured from where it lies first"
	case !place.LocalFits(s):
		return "it was found against another key; register again to this one"
	case way != place.WayKey && s.Local[i].W == 0:
		return "too few places agree to tell one, or it would fold the picture"
	}
	return ""
}

// LocalSays tells what the local register would do for source i, from places
// that it had not seen, or why there is none. It is "" for the key.
func LocalSays(s *session.State, i int) string {
	if why := NoLocal(s, i); why != "" {
		return "No local register: " + why + "."
	}
	l := &s.Local[i]
	if l.W == 0 {
		return ""
	}
	left := fmt.Sprintf("Half of the places that the bend was not fitted to would lie within %.3f px in place of %.3f", l.After.Median, l.Before.Median)
	switch {
	case l.Worth():
		return left + ": the plate is bent smoothly against the key, by uneven shrinkage, glass, the camera or the scanner. It is worth switching on."
	case l.After.Median < l.Before.Median:
		return left + ": hardly better. Leave it off."
	}
	return left + ": no better. Leave it off."
}

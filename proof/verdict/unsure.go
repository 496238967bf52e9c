package verdict

import (
	"fmt"
	"slices"

	"threeply/proof/filter"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
)

// unsure says why the figures of register cannot be judged, "" where they can.
// rests are by filter.
func unsure(s *session.State, rests [3]Rest) string {
	if s.Carried {
		return "The register comes from a session that does not know the content of its scans, so nobody can say that they are these: register again."
	}
	var twins []string
	for _, f := range filter.All {
		name := f.String()
		i := s.Assign[f]
		rest := rests[f]
		switch way := place.WayOf(s, i); {
		case way == place.WayNone:
			return "Not registered yet: the plates lie as they were scanned."
		case way == place.WayHand:
			return fmt.Sprintf("The %s plate was placed by hand: nothing was measured. Look at the edges, or have it measured from there.", name)
		case (way == place.WayFound || way == place.WayBoth) && rest.Confidence < register.FoundFrom:
			if other := lostToo(s, rests, f); other != "" {
				return fmt.Sprintf("The %s and the %s plate were not found. %s", name, other, s.Found[i].Words)
			}
			return fmt.Sprintf("The %s plate was not found. %s", name, s.Found[i].Words)
		case (way == place.WayFound || way == place.WayBoth) && !place.LocalFits(s):
			return fmt.Sprintf("The plates were measured against the %s one. Register again to judge them against the %s one.", place.FoundKey(s), s.Key)
		}
		if s.Found[i].Twin {
			twins = append(twins, name)
		}
	}
	if len(twins) > 1 {
		return fmt.Sprintf("The %s and the %s plate are one and the same scan, pixel for pixel: two layers would print one plate.", twins[0], twins[len(twins)-1])
	}
	for _, f := range filter.All {
		name := f.String()
		rest := rests[f]
		switch {
		case rest.Confidence < SureFrom && !register.Parted(&s.Survey[s.Assign[f]]):
			return fmt.Sprintf("Cannot be judged: it is not sure where the %s plate lies (confidence %.0f %%). Look at the edges.", name, 100*rest.Confidence)
		case !rest.Known:
			return fmt.Sprintf("The %s plate lies by %s: so few marks do not show how well it lies. Pin a fourth, or look at the edges.", name, count(rest.Marks, "mark"))
		}
	}
	return ""
}

// lostToo is a plate after the first that was not found either, "" for none.
func lostToo(s *session.State, rests [3]Rest, first filter.Filter) string {
	for _, f := range filter.All {
		way := place.WayOf(s, s.Assign[f])
		if f > first && (way == place.WayFound || way == place.WayBoth) && rests[f].Confidence < register.FoundFrom {
			return f.String()
		}
	}
	return ""
}

// opposite is the correlation of densities from which two plates surely are both
// negatives or both positives, and below its negative surely are not.
const opposite = 0.3

// Opposed says that the tones of source i run against what is said of negatives and
// positives, "" where they do not.
func Opposed(s *session.State, i int) string {
	key, _ := filter.Named(place.FoundKey(s))
	k := s.Assign[key]
	if i == k || s.Found[i].ByHand || s.Registered != "auto" {
		return ""
	}
	name, differ := filter.Filter(slices.Index(s.Assign[:], i)), s.Sources[i].Film.Negative != s.Sources[k].Film.Negative
	switch t := s.Tones[i]; {
	case t < -opposite && !differ:
		return fmt.Sprintf("the tones of the %s plate run against those of the %s one: one is a negative, the other a positive. Say which at Plates.", name, place.FoundKey(s))
	case t > opposite && differ:
		return fmt.Sprintf("the tones of the %s plate run with those of the %s one: both are negatives, or both positives. Say which at Plates.", name, place.FoundKey(s))
	}
	return ""
}

// alike asks about plates that show the same tones, "" where none do.
func alike(s *session.State) string {
	var names []string
	for _, f := range filter.All {
		name := f.String()
		if s.Found[s.Assign[f]].Alike {
			names = append(names, name)
		}
	}
	switch len(names) {
	case 2:
		return fmt.Sprintf(" But the %s and the %s plate show the very same tones: one plate scanned twice, or a scene of greys?", names[0], names[1])
	case 3:
		return " But all three plates show the very same tones: one plate scanned again, or a scene of greys?"
	}
	return ""
}

// count writes a number of things.
func count(n int, what string) string {
	if n == 1 {
		return "one " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// lost says where the key shows detail that was not found in a plate, "" where there is no
// such part.
func (v *Scan) lost(s *session.State) (words string) {
	for _, f := range filter.All {
		m := &s.Survey[s.Assign[f]]
		part := register.Lost(m)
		if part == nil {
			continue
		}
		var x, y float64
		for _, c := range part {
			cx, cy := m.Centre(c)
			x, y = x+cx/float64(len(part)), y+cy/float64(len(part))
		}
		words += fmt.Sprintf(" But detail at the %s, %.0f %% of the picture, was not found in the %s plate: look there.", v.partAt(x, y), 100*float64(len(part))/float64(len(m.Cells)), f)
	}
	return words
}

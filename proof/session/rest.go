package session

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/mark"
	"threeply/proof/register"
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

// Way returns by what source i lies where it lies. The key itself may lie by
// hand in the frame that another key had.
func (s *State) Way(i int) Way {
	marked := s.By != ByRegister
	switch {
	case i == s.KeySource() && (marked || !s.Found[i].ByHand):
		return WayKey
	case marked:
		if _, err := s.MarkFit(i); err == nil {
			if s.By == ByBoth && s.Registered == "auto" {
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

// Rest is what register leaves at a plate, against the frame that it was found
// in, in pixels of the key.
type Rest struct {
	register.Residual
	Known      bool    // false where nothing was measured that could tell
	Confidence float64 // of the automatic register, 1 where the plate does not lie by it
	Outvoted   float64 // share of the places measured with certainty that lie elsewhere, 0..1
	Marks      int     // how many the plate lies by
	Local      bool    // Residual is what the local register leaves
	Measured   bool    // Residual rests on what the automatic register measured too, not on marks alone
}

// freedom is how many marks an affine map goes through exactly.
const freedom = 3

// Rest sums up what register leaves at source i. Of a plate that was found it
// is the median of the places measured with certainty, 95 % of them and the
// largest. Their 95th percentile holds the noise of single patches, several times
// what the fit itself is off (the demo's known matrices show it), and what moved in
// the scene. Of a plate that lies by n marks, Median is their root mean square over
// the n-3 that the map does not use up. Three and fewer leave none: then it is what
// the automatic register measured, and how far its map lies from that of the marks,
// where that is no more than a pixel, and else nothing is known. By both ways it is
// the larger of what was measured so and of what the marks leave. Of a plate placed
// by hand, or not found, nothing is known. The plate that the others were found
// against has none.
func (s *State) Rest(i int) Rest {
	f := s.Found[i]
	found := Rest{Residual: register.Residual{Median: f.Median, P95: f.P95, Max: f.Max}, Known: true, Confidence: f.Confidence, Outvoted: s.Outvoted[i], Measured: true}
	switch way := s.Way(i); way {
	case WayNone, WayHand:
		return Rest{Confidence: 1}
	case WayKey:
		if s.By != ByRegister || s.Registered != "auto" {
			return Rest{Known: true, Confidence: 1}
		}
	case WayMarks, WayBoth:
		fit, err := s.MarkFit(i)
		if err != nil {
			return Rest{Confidence: 1}
		}
		marks, moved := ofMarks(fit, way == WayBoth), s.apart(fit.Matrix, i)
		found.Marks = marks.Marks
		found.Median, found.P95, found.Max = math.Hypot(found.Median, moved.Median), math.Hypot(found.P95, moved.P95), math.Hypot(found.Max, moved.Max)
		switch {
		case way == WayBoth && !f.ByHand:
			found.Median, found.P95, found.Max = max(found.Median, marks.Median), max(found.P95, marks.P95), max(found.Max, marks.Max)
			return found
		case !marks.Known && s.Registered == "auto" && !f.ByHand && f.Confidence >= SureFrom && moved.Max <= 1:
			found.Confidence = 1
			return found
		}
		return marks
	}
	if f.Confidence < FoundFrom {
		return Rest{Confidence: f.Confidence}
	}
	if l := s.LocalOf(i); l != nil {
		// It was fitted to the places that agree: the others lie where they lay.
		found.Residual, found.Local = l.After, true
		if found.Outvoted > 0 {
			found.Max = max(found.Max, f.Max)
		}
		if found.Outvoted > 0.05 {
			found.P95 = max(found.P95, f.P95)
		}
	}
	return found
}

// apart is how far a map of source i lies from what was found, over the picture, in
// pixels of the key.
func (s *State) apart(m affine.Matrix, i int) register.Residual {
	w, h := s.Frame()
	was := s.found(i)
	size := math.Sqrt(math.Abs(was.Det()))
	var all []float64
	for j := range grid {
		for k := range grid {
			x, y := float64(w-1)*float64(k)/(grid-1), float64(h-1)*float64(j)/(grid-1)
			ax, ay := m.Apply(x, y)
			bx, by := was.Apply(x, y)
			all = append(all, math.Hypot(ax-bx, ay-by)/size)
		}
	}
	slices.Sort(all)
	return register.Residual{Median: all[len(all)/2], P95: all[len(all)*95/100], Max: all[len(all)-1]}
}

func ofMarks(fit mark.Fit, blended bool) Rest {
	n := len(fit.Residual)
	r := Rest{Marks: n, Confidence: 1}
	spare := n - freedom
	if blended {
		spare = n
	}
	if spare <= 0 {
		return r
	}
	size := math.Sqrt(math.Abs(fit.Matrix.Det())) // plate pixels to the key's
	var square float64
	for _, v := range fit.Residual {
		square += v * v / size / size
		r.Max = max(r.Max, v/size)
	}
	r.Median, r.P95, r.Known = math.Sqrt(square/float64(spare)), r.Max, true
	return r
}

// FoundFrom is the confidence below which a plate was not found, whatever its
// matrix says; SureFrom is that from which its register is spoken of without
// doubt.
const (
	FoundFrom = register.FoundFrom
	SureFrom  = 0.6
)

// unsure says why the figures of register cannot be judged, "" where they can.
// rests are by printer.
func (s *State) unsure(rests [3]Rest) string {
	var twins []string
	for f, name := range Filters {
		i := s.Assign[f]
		rest := rests[2-f]
		switch way := s.Way(i); {
		case way == WayNone:
			return "Not registered yet: the plates lie as they were scanned."
		case way == WayHand:
			return fmt.Sprintf("The %s plate was placed by hand: nothing was measured. Look at the edges, or have it measured from there.", name)
		case (way == WayFound || way == WayBoth) && rest.Confidence < FoundFrom:
			return fmt.Sprintf("The %s plate is not in register. %s", name, s.Found[i].Words)
		case (way == WayFound || way == WayBoth) && !s.LocalFits():
			return fmt.Sprintf("The plates were measured against the %s one, the key of then: register again to judge them against the %s one.", s.FoundKey(), s.Key)
		}
		if s.Found[i].Twin {
			twins = append(twins, name)
		}
	}
	if len(twins) > 1 {
		return fmt.Sprintf("The %s and the %s plate are one and the same scan, pixel for pixel: two layers would print one plate.", twins[0], twins[len(twins)-1])
	}
	for f, name := range Filters {
		rest := rests[2-f]
		switch {
		case rest.Confidence < SureFrom && rest.Outvoted <= register.Moved:
			return fmt.Sprintf("Register is not sure of the %s plate (confidence %.0f %%): look at the edges before you trust it.", name, 100*rest.Confidence)
		case !rest.Known:
			return fmt.Sprintf("The %s plate lies by %s: one to three marks leave no residual to judge by. Pin a fourth, or look at the edges.", name, count(rest.Marks, "mark"))
		}
	}
	return ""
}

// parted says of the plates of which a part lies elsewhere, "" where there are none.
func (s *State) parted(rests [3]Rest) string {
	var words string
	for f, name := range Filters {
		if rest := rests[2-f]; rest.Outvoted > register.Moved {
			words += fmt.Sprintf("Of the %s plate %s. ", name, register.Elsewhere(rest.Outvoted, rest.Max))
		}
	}
	return words
}

// FoundKey is the filter of the plate that the others were found against.
func (s *State) FoundKey() string {
	for f, name := range Filters {
		if s.Found[s.Assign[f]].Matrix == affine.Identity {
			return name
		}
	}
	return "first"
}

// opposite is the correlation of densities from which two plates surely are both
// negatives or both positives, and below its negative surely are not.
const opposite = 0.3

// Opposed says that the tones of source i run against what is said of negatives and
// positives, "" where they do not.
func (s *State) Opposed(i int) string {
	k := s.Assign[max(FilterIndex(s.FoundKey()), 0)]
	if i == k || s.Found[i].ByHand || s.Registered != "auto" {
		return ""
	}
	name, differ := Filters[slices.Index(s.Assign[:], i)], s.Sources[i].Film.Negative != s.Sources[k].Film.Negative
	switch t := s.Tones[i]; {
	case t < -opposite && !differ:
		return fmt.Sprintf("the tones of the %s plate run against those of the %s one: one is a negative, the other a positive. Say which at Plates.", name, s.FoundKey())
	case t > opposite && differ:
		return fmt.Sprintf("the tones of the %s plate run with those of the %s one: both are negatives, or both positives. Say which at Plates.", name, s.FoundKey())
	}
	return ""
}

// alike asks about plates that show the same tones, "" where none do.
func (s *State) alike() string {
	var names []string
	for f, name := range Filters {
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

package session

import "slices"

// Match is how a kept session and the scans that are open go together.
type Match int

const (
	Other        Match = iota // the session is one of other scans
	OtherContent              // names and sizes fit, but the content differs: the plates were scanned anew
	Unproved                  // names and sizes fit, and the session does not know its scans' content
	Same                      // it is a session of these very scans
)

// orders are all orders of three sources, the given one first.
var orders = [6][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}

// Belongs tells whether a kept session belongs to the scans that are open, whatever
// order they were chosen in: by their content where both know it, else by names and
// sizes. Where it does (Same and Unproved) it returns the session with its sources in
// the order of the open ones and under their names; where that is not proved, a register
// is marked as carried over. Else it returns the session as it was kept.
func Belongs(kept State, open [3]Source) (State, Match) {
	best, of, names := Other, orders[0], -1
	for _, order := range orders {
		m, same := Same, 0
		for i, k := range order {
			m = min(m, match(kept.Sources[k], open[i]))
			if kept.Sources[k].File == open[i].File {
				same++
			}
		}
		// Of scans with the same content twice the names decide, and then the order.
		if m > best || m == best && same > names {
			best, of, names = m, order, same
		}
	}
	if best != Same && best != Unproved {
		return kept, best
	}
	s := kept.reordered(of)
	for i, o := range open {
		src := &s.Sources[i]
		src.File, src.SHA256, src.Part = o.File, o.SHA256, o.Part
	}
	if marked := s.By != ByRegister && len(s.Marks) > 0; best == Unproved && (s.Registered == "auto" || marked) {
		s.Carried = true
	}
	return s, best
}

// match tells how one kept source and one open one go together.
func match(kept, open Source) Match {
	sized := kept.W == open.W && kept.H == open.H
	named := sized && kept.File == open.File
	switch known := kept.SHA256 != "" && open.SHA256 != ""; {
	case known && kept.SHA256 == open.SHA256 && kept.Part == open.Part && sized:
		return Same
	case named && !known:
		return Unproved
	case named:
		return OtherContent
	}
	return Other
}

// reordered returns the state with source order[i] in place i.
func (s State) reordered(order [3]int) State {
	var to [3]int // where a source goes
	for i, k := range order {
		to[k] = i
	}
	out := s
	for k, i := range to {
		out.Sources[i], out.Found[i], out.Local[i] = s.Sources[k], s.Found[k], s.Local[k]
		out.LocalOff[i], out.Outvoted[i], out.Tones[i] = s.LocalOff[k], s.Outvoted[k], s.Tones[k]
		out.PlateIdentities[i] = s.PlateIdentities[k]
	}
	for f, k := range s.Assign {
		out.Assign[f] = to[k]
	}
	if s.FoundKey >= 0 {
		out.FoundKey = to[s.FoundKey]
	}
	out.Marks = slices.Clone(s.Marks)
	for m := range out.Marks {
		for k, i := range to {
			out.Marks[m].At[i] = s.Marks[m].At[k]
		}
	}
	out.Notes = slices.Clone(s.Notes)
	for n := range out.Notes {
		out.Notes[n].Source = to[s.Notes[n].Source]
	}
	out.Points = slices.Clone(s.Points)
	for n := range out.Points {
		out.Points[n].Source = to[s.Points[n].Source]
	}
	return out
}

package view

import (
	"slices"

	"threeply/proof/affine"
	"threeply/proof/mark"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/verdict"
)

// Marking is how the three plates are looked at side by side while marks are pinned:
// each in its own pixels, turned as the key lies, about a place of its own. All
// arrays are by filter: red, green, blue.
type Marking struct {
	Zoom     float64       `json:"zoom"`     // device pixels a pixel of the key
	Together bool          `json:"together"` // a drag pans all three
	At       [3][2]float64 `json:"-"`        // the plate's pixel in the middle
	Mark     int           `json:"-"`        // number of the mark that clicks and keys set, 0 for none
	Filter   int           `json:"-"`        // whose pin of it the keys move

	linear   [3]affine.Matrix // key → plate, without the shift
	lastTool string           // the pointer's tool before the plates were looked at
}

// The zoom of the three plates keeps between these, in device pixels a pixel.
const leastMarkZoom, mostMarkZoom = 0.1, 48

// Linear is how the plate of a filter is turned and stretched against the key.
func (m *Marking) Linear(filter int) affine.Matrix {
	if m.linear[filter].Det() == 0 { // nothing was looked at yet
		return affine.Identity
	}
	return m.linear[filter]
}

func (m *Marking) enlarged(filter int) *enlarged {
	return &enlarged{m.At[filter][0], m.At[filter][1], m.Zoom, m.Linear(filter)}
}

// BestPlace is the best that is known of where source i lies while marks are pinned:
// key pixel → pixel of the source. Where register is not sure, it is by the marks so
// far.
func BestPlace(s *session.State, i int) affine.Matrix {
	m := place.Register(s, i)
	unsure := s.Registered != "auto" || s.Found[i].Confidence < verdict.SureFrom && !s.Found[i].ByHand
	if i != s.KeySource() && s.By == session.ByRegister && unsure {
		if fit, err := mark.Solve(place.MarksOf(s, i), m); err == nil {
			return fit.Matrix
		}
	}
	return m
}

// turnTo changes the look. The plates side by side begin at the place that was in the
// middle, with the tool that pins; leaving them gives the tool of before back.
func (v *View) turnTo(look string, s *session.State) {
	was := v.Look
	v.Look, v.Second, v.Paused = look, false, false
	switch {
	case look == "marks" && was != "marks":
		if v.Tool != "pin" {
			v.Marking.lastTool = v.Tool
		}
		v.Tool = "pin"
		if open(s) && !v.meetAtMark(s) {
			v.meetAt(s, v.Centre[0], v.Centre[1])
		}
	case look != "marks" && v.Tool == "pin":
		v.Tool = v.Marking.lastTool
		if v.Tool == "" {
			v.Tool = "pan"
		}
	}
	v.fit()
}

// meetAt brings the same pixel of the key into the middle of all three plates.
func (v *View) meetAt(s *session.State, x, y float64) {
	for f := range 3 {
		m := BestPlace(s, s.Assign[f])
		px, py := m.Apply(x, y)
		v.Marking.linear[f] = affine.Matrix{m[0], m[1], 0, m[3], m[4], 0}
		v.Marking.At[f] = [2]float64{px, py}
	}
	v.holdPlates(s)
}

// meetAtMark brings the chosen mark into the middle of all three; where a plate is not
// pinned, the place that the map gives. It tells whether one is chosen.
func (v *View) meetAtMark(s *session.State) bool {
	m, ok := v.ChosenMark(s)
	if !ok {
		return false
	}
	x, y, ok := keyPlace(s, m)
	if !ok {
		return false
	}
	v.meetAt(s, x, y)
	for f := range 3 {
		if pin := m.At[s.Assign[f]]; pin.Set {
			v.Marking.At[f] = [2]float64{pin.X, pin.Y}
		}
	}
	v.holdPlates(s)
	return true
}

// MeetProposals moves the plates in which a mark is proposed, so that their panes show
// it where the pane of the plate that was pinned last has it.
func (v *View) MeetProposals(s *session.State, n int) {
	m, _ := markOf(s, n)
	from := v.Marking.Filter
	pin := m.At[s.Assign[from]]
	back, ok := v.Marking.Linear(from).Inverse()
	if !ok || v.Look != "marks" || !pin.Set {
		return
	}
	x, y := back.Apply(pin.X-v.Marking.At[from][0], pin.Y-v.Marking.At[from][1])
	for f := range 3 {
		if p := m.At[s.Assign[f]]; f != from && p.Set && p.Proposed {
			dx, dy := v.Marking.Linear(f).Apply(x, y)
			v.Marking.At[f] = [2]float64{p.X - dx, p.Y - dy}
		}
	}
	v.holdPlates(s)
}

// ChosenMark is the mark that clicks and keys set; ok is false where none is, or where
// it was undone.
func (v *View) ChosenMark(s *session.State) (m session.Pinned, ok bool) {
	return markOf(s, v.Marking.Mark)
}

// Settled tells whether a person set or confirmed all pins of a mark.
func Settled(m session.Pinned) bool {
	return !slices.ContainsFunc(m.At[:], func(p session.Pin) bool { return !p.Set || p.Proposed })
}

func markOf(s *session.State, n int) (session.Pinned, bool) {
	k := s.MarkOf(n)
	if k < 0 {
		return session.Pinned{}, false
	}
	return s.Marks[k], true
}

// keyPlace is where the key shows a mark, or would, by the first plate that is pinned.
func keyPlace(s *session.State, m session.Pinned) (x, y float64, ok bool) {
	if k := m.At[s.KeySource()]; k.Set {
		return k.X, k.Y, true
	}
	for i, pin := range m.At {
		if back, fine := BestPlace(s, i).Inverse(); fine && pin.Set {
			x, y = back.Apply(pin.X, pin.Y)
			return x, y, true
		}
	}
	return 0, 0, false
}

// holdPlates keeps the plates from leaving their panes.
func (v *View) holdPlates(s *session.State) {
	for f := range 3 {
		src, at := s.Sources[s.Assign[f]], &v.Marking.At[f]
		at[0] = min(max(at[0], 0), float64(src.W-1))
		at[1] = min(max(at[1], 0), float64(src.H-1))
	}
}

// OnPlate is a way over the stage as one over the plate of a filter, in its pixels.
func (v *View) OnPlate(filter int, dx, dy float64) (float64, float64) {
	k := v.Stage.Ratio / v.Marking.Zoom
	return v.Marking.Linear(filter).Apply(k*dx, k*dy)
}

// panPlates moves the plate of a filter, or all three alike for a negative one.
func (v *View) panPlates(s *session.State, filter int, dx, dy float64) {
	for f := range 3 {
		if filter < 0 || filter == f {
			x, y := v.OnPlate(f, dx, dy)
			v.Marking.At[f][0] -= x
			v.Marking.At[f][1] -= y
		}
	}
	v.holdPlates(s)
}

// fitPlates reduces all three until the key's whole width and height stand in a pane.
func (v *View) fitPlates(s *session.State) {
	w, h := s.Frame()
	if panes := v.Panes(); len(panes) > 0 && w > 0 && h > 0 {
		v.zoomPlates(v.Stage.Ratio * min(panes[0].W/float64(w), panes[0].H/float64(h)))
		v.meetAt(s, float64(w-1)/2, float64(h-1)/2)
	}
}

// zoomPlates enlarges all three about their middles.
func (v *View) zoomPlates(zoom float64) {
	v.Marking.Zoom = min(max(zoom, leastMarkZoom*min(v.Stage.Ratio, 1)), mostMarkZoom)
}

// nextMark is the number after the chosen one's, from the first again after the last.
// 0 where there is none.
func (v *View) nextMark(s *session.State) int {
	if len(s.Marks) == 0 {
		return 0
	}
	if k := slices.IndexFunc(s.Marks, func(m session.Pinned) bool { return m.N > v.Marking.Mark }); k >= 0 {
		return s.Marks[k].N
	}
	return s.Marks[0].N
}

// goToMark brings the chosen mark into the middle.
func (v *View) goToMark(s *session.State) {
	if v.Look == "marks" {
		v.meetAtMark(s)
		return
	}
	if m, ok := v.ChosenMark(s); ok {
		if x, y, ok := keyPlace(s, m); ok {
			v.goTo(x, y)
		}
	}
}

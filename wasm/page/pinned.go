//go:build js

package main

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/verdict"
)

// marksModel is what the page shows of marks.
type marksModel struct {
	Marks    []markModel  `json:"marks"`
	Chosen   int          `json:"chosenMark"` // its number, 0 for none
	PinPlate string       `json:"pinPlate"`   // the plate whose pin keys move
	Together bool         `json:"together"`
	Contrast bool         `json:"contrast"` // enlarged plates are drawn in full contrast
	By       string       `json:"registerBy"`
	Share    float64      `json:"markShare"`
	Gives    []string     `json:"marksGive"` // what the marks give, a sentence a plate
	Pins     [][]pinPlace `json:"pins"`      // in every frame
}

type markModel struct {
	N      int        `json:"n"`
	Weight float64    `json:"weight"`
	Open   bool       `json:"open"` // something of it is proposed, or not pinned
	Plates []pinModel `json:"plates"`
}

type pinModel struct {
	Filter     string   `json:"filter"`
	Set        bool     `json:"set"`
	Proposed   bool     `json:"proposed"`
	Words      string   `json:"words"`
	ResidualPx *float64 `json:"residualPx"` // null where there is none
	ResidualUm *float64 `json:"residualUm"`
}

// pinPlace is a mark in a frame, in CSS pixels of the stage.
type pinPlace struct {
	N        int     `json:"n"`
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	Proposed bool    `json:"proposed"`
	Chosen   bool    `json:"chosen"`
	Filter   string  `json:"filter"` // of the plate that it can be dragged in, "" for none
}

func (a *app) marksModel() marksModel {
	m := marksModel{
		Marks: []markModel{}, Gives: []string{}, Pins: [][]pinPlace{}, Together: a.marking.together, Contrast: a.contrast,
		PinPlate: session.Filters[a.marking.filter], By: a.By, Share: a.MarkShare,
	}
	if !a.has() {
		return m
	}
	if c, ok := a.chosenMark(); ok {
		m.Chosen = c.N
	}
	for _, pinned := range a.Marks {
		one := markModel{N: pinned.N, Weight: pinned.Weight, Open: !settled(pinned)}
		for f := range 3 {
			one.Plates = append(one.Plates, a.pinModel(pinned, f))
		}
		m.Marks = append(m.Marks, one)
	}
	for f, name := range session.Filters {
		if name != a.Key && len(a.Marks) > 0 {
			m.Gives = append(m.Gives, a.marksGive(f))
		}
	}
	for _, p := range a.panes() {
		m.Pins = append(m.Pins, a.pinsIn(p))
	}
	return m
}

func (a *app) pinModel(m session.Pinned, f int) pinModel {
	i := a.Assign[f]
	pin := m.At[i]
	out := pinModel{Filter: session.Filters[f], Set: pin.Set, Proposed: pin.Proposed}
	switch {
	case pin.Proposed:
		out.Words = fmt.Sprintf("proposed, %s, %.0f %%", certain(pin.Certainty), 100*pin.Certainty)
	case pin.Set && pin.Certainty < 1:
		out.Words = fmt.Sprintf("confirmed, from %.0f %%", 100*pin.Certainty)
	case pin.Set:
		out.Words = "pinned"
	case a.marking.seeking == m.N:
		out.Words = "being looked for"
	case a.marking.missed[m.N][i]:
		out.Words = "not found: pin it by hand"
	default:
		out.Words = "not pinned yet"
	}
	if px, ok := place.MarkResidual(&a.State, m, i); ok {
		um := px * a.PixelMicrons() / math.Sqrt(math.Abs(place.Register(&a.State, i).Det()))
		out.ResidualPx, out.ResidualUm = &px, &um
	}
	return out
}

func certain(v float64) string {
	switch {
	case v >= 0.7:
		return "sure"
	case v >= 0.35:
		return "fairly sure"
	}
	return "a guess"
}

// muchStrain is where marks are said to lie too close together. Marks amid the
// four quarters of the picture strain its corners by 1.5.
const muchStrain = 3

// marksGive says what the marks make of a plate.
func (a *app) marksGive(f int) string {
	i, name := a.Assign[f], session.Filters[f]
	say := verdict.OfMarks(&a.State, i)
	switch {
	case say.N == 0:
		return fmt.Sprintf("The %s plate has no mark yet that is pinned in the key too.", name)
	case say.Err != nil:
		return fmt.Sprintf("The %s plate: %s.", name, strings.TrimPrefix(say.Err.Error(), "mark: "))
	}
	kind := map[string]string{
		"shift": "one mark gives a shift", "similarity": "two marks give shift, turn and stretch",
		"affine": fmt.Sprintf("%d marks give an affine map", say.N),
	}[string(say.Kind)]
	s := fmt.Sprintf("The %s plate: %s", name, kind)
	if say.Spare {
		s += fmt.Sprintf(", which misses them by %.2f px (root mean square)", say.Residual)
	}
	gathered := ""
	if say.Strain > muchStrain {
		gathered = fmt.Sprintf(" They lie close together: one pixel's error of the pins is %.0f at the far corner. Pin one more, far from the others.", say.Strain)
	}
	if a.Registered != "auto" {
		return s + "." + gathered
	}
	beside := "found"
	if a.Found[i].ByHand {
		beside = "set by hand"
	}
	return s + fmt.Sprintf("; from what was %s it lies %.2f px at the centre and %.2f px at the farthest corner.", beside, say.Centre, say.Corner) + gathered
}

// pinsIn places the marks in a pane: in one of a single plate where that plate
// is pinned, else at the key's place.
func (a *app) pinsIn(p pane) []pinPlace {
	out := []pinPlace{}
	back, ok := a.view(p).Inverse()
	if !ok {
		return out
	}
	x0, y0, x1, y1 := a.shown(p)
	for _, m := range a.Marks {
		x, y, proposed, ok := a.placeIn(p, m)
		if !ok {
			continue
		}
		x, y = back.Apply(x, y)
		if x < float64(x0) || y < float64(y0) || x > float64(x1) || y > float64(y1) {
			continue
		}
		one := pinPlace{N: m.N, X: hundredth((x + 0.5) / a.ratio), Y: hundredth((y + 0.5) / a.ratio), Proposed: proposed, Chosen: m.N == a.marking.chosen}
		if p.direct {
			one.Filter = session.Filters[2-p.plate]
		}
		out = append(out, one)
	}
	return out
}

// placeIn is where a pane shows a mark, in its own pixels: the plate's of a
// direct one, else the key's.
func (a *app) placeIn(p pane, m session.Pinned) (x, y float64, proposed, ok bool) {
	layer := -1
	switch {
	case p.show == showPlate:
		layer = p.plate
	case p.only != "":
		for i := range pigment.Printer(3) {
			if i.String() == p.only {
				layer = int(i)
			}
		}
	}
	if layer < 0 {
		k := a.KeySource()
		x, y, ok = a.keyPlace(m)
		if ok {
			x, y, ok = a.onPrint(a.printerFor(k), x, y)
		}
		return x, y, !m.At[k].Set || m.At[k].Proposed, ok
	}
	pin := m.At[a.SourceOf(pigment.Printer(layer))]
	if p.direct || !pin.Set {
		return pin.X, pin.Y, pin.Proposed, pin.Set
	}
	x, y, ok = a.onPrint(pigment.Printer(layer), pin.X, pin.Y)
	return x, y, pin.Proposed, ok
}

func (a *app) printerFor(source int) pigment.Printer {
	for i := range pigment.Printer(3) {
		if a.SourceOf(i) == source {
			return i
		}
	}
	return pigment.Magenta
}

// settleSteps are enough to undo a local register, which is smooth and small.
const settleSteps = 4

// onPrint takes a pixel of a layer's plate to the key's where the print shows
// it.
func (a *app) onPrint(layer pigment.Printer, x, y float64) (float64, float64, bool) {
	path := place.Layer(&a.State, layer)
	fromPlate, ok := path.ToPlate.Inverse()
	toPrint, fine := path.ToKey.Inverse()
	if !ok || !fine {
		return 0, 0, false
	}
	x, y = fromPlate.Apply(x, y)
	if path.Local != nil {
		px, py := x, y
		for range settleSteps {
			dx, dy := path.Local.At(px, py)
			px, py = x-dx, y-dy
		}
		x, y = px, py
	}
	x, y = toPrint.Apply(x, y)
	return x, y, true
}

func hundredth(v float64) float64 { return math.Round(100*v) / 100 }

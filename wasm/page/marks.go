//go:build js

package main

import (
	"encoding/json"

	"threeply/proof/affine"
	"threeply/proof/mark"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/verdict"
)

// marking is how the three plates are looked at side by side while marks are
// pinned: each in its own pixels, turned as the key lies, about a place of its
// own.
type marking struct {
	zoom     float64          // device pixels a pixel of the key
	at       [3][2]float64    // by filter: the plate's pixel in the middle
	linear   [3]affine.Matrix // by filter: key → plate without the shift
	together bool             // a drag pans all three

	chosen  int             // number of the mark that clicks and keys set, 0 for none
	filter  int             // whose pin of it the keys move
	missed  map[int][3]bool // by number of a mark and source: looked for in vain
	sought  int             // counts the searches: what a later one overtook is dropped
	seeking int             // the mark that is sought now, 0 for none
	before  string          // the pointer's tool in other looks
}

// The zoom of the three plates keeps between these, in device pixels a pixel.
const leastMarkZoom, mostMarkZoom = 0.1, 48

// markPanes are the three plates, red, green and blue.
func (s *sight) markPanes(one func(id, label string, show int) pane) []pane {
	var out []pane
	for f, name := range session.Filters {
		p := one("plate-"+name, "The "+name+" plate", showPlate)
		p.plate, p.direct = 2-f, true
		linear := s.marking.linear[f]
		if linear.Det() == 0 {
			linear = affine.Identity
		}
		p.magnified = &magnified{s.marking.at[f][0], s.marking.at[f][1], s.marking.zoom, linear}
		out = append(out, p)
	}
	return out
}

// lay is the best that is known of where source i lies while marks are pinned,
// key pixel → pixel of the source: where register is not sure, the marks so far.
func (a *app) lay(i int) affine.Matrix {
	m := place.Register(&a.State, i)
	unsure := a.Registered != "auto" || a.Found[i].Confidence < verdict.SureFrom && !a.Found[i].ByHand
	if i != a.KeySource() && a.By == session.ByRegister && unsure {
		if fit, err := mark.Solve(place.MarksOf(&a.State, i), m); err == nil {
			return fit.Matrix
		}
	}
	return m
}

// turnLook does what entering and leaving a way of looking asks for: the plates
// side by side begin at the place that was in the middle, with the tool that
// pins.
func (a *app) turnLook(to string) {
	was := a.look
	a.look, a.blinked = to, false
	switch {
	case to == "marks" && was != "marks":
		if a.tool != "pin" {
			a.marking.before = a.tool
		}
		a.tool = "pin"
		if a.has() && !a.meetAtMark() {
			a.meetAt(a.cx, a.cy)
		}
	case to != "marks" && a.tool == "pin":
		a.tool = a.marking.before
		if a.tool == "" {
			a.tool = "pan"
		}
	}
	if a.has() {
		_ = a.remask() // what may be wrong was said when the session began to print masked
	}
	a.refit()
}

// meetAt brings the same place of the key into the middle of all three.
func (a *app) meetAt(x, y float64) {
	for f := range 3 {
		m := a.lay(a.Assign[f])
		px, py := m.Apply(x, y)
		a.marking.linear[f] = affine.Matrix{m[0], m[1], 0, m[3], m[4], 0}
		a.marking.at[f] = [2]float64{px, py}
	}
	a.holdMarks()
}

// meetAtMark brings the chosen mark into the middle of all three, where it is
// not pinned the place that the map gives; false where none is chosen.
func (a *app) meetAtMark() bool {
	m, ok := a.chosenMark()
	if !ok {
		return false
	}
	x, y, ok := a.keyPlace(m)
	if !ok {
		return false
	}
	a.meetAt(x, y)
	for f := range 3 {
		if pin := m.At[a.Assign[f]]; pin.Set {
			a.marking.at[f] = [2]float64{pin.X, pin.Y}
		}
	}
	a.holdMarks()
	return true
}

// keyPlace is where the key shows a mark, or would, by the first plate that is
// pinned.
func (a *app) keyPlace(m session.Pinned) (x, y float64, ok bool) {
	if k := m.At[a.KeySource()]; k.Set {
		return k.X, k.Y, true
	}
	for i, pin := range m.At {
		if back, fine := a.lay(i).Inverse(); fine && pin.Set {
			x, y = back.Apply(pin.X, pin.Y)
			return x, y, true
		}
	}
	return 0, 0, false
}

// holdMarks keeps the plates from leaving their panes.
func (a *app) holdMarks() {
	for f := range 3 {
		s, at := a.Sources[a.Assign[f]], &a.marking.at[f]
		at[0] = min(max(at[0], 0), float64(s.W-1))
		at[1] = min(max(at[1], 0), float64(s.H-1))
	}
}

// panMarks moves the plate under a point of the stage, or all three alike, by
// CSS pixels.
func (a *app) panMarks(text []byte) {
	var d struct {
		DX, DY   float64
		X, Y     *float64
		Together bool
	}
	if json.Unmarshal(text, &d) != nil {
		return
	}
	only := -1
	if d.X != nil && d.Y != nil && !d.Together && !a.marking.together {
		p, _ := a.paneAt(*d.X, *d.Y)
		only = 2 - p.plate
	}
	for f := range 3 {
		if only < 0 || only == f {
			x, y := a.onPlate(f, d.DX, d.DY)
			a.marking.at[f][0] -= x
			a.marking.at[f][1] -= y
		}
	}
	a.holdMarks()
}

// onPlate is a way over the stage, in CSS pixels, as one over the plate of a
// filter, in its pixels.
func (a *app) onPlate(f int, dx, dy float64) (float64, float64) {
	k := a.ratio / a.marking.zoom
	return a.marking.linear[f].Apply(k*dx, k*dy)
}

// zoomMarks enlarges all three about their middles; to fit, until the widest
// plate stands in its pane.
func (a *app) zoomMarks(by, percent float64, fit bool) {
	zoom := &a.marking.zoom
	switch {
	case fit:
		w, h := a.Frame()
		if ps := a.panes(); len(ps) > 0 && w > 0 && h > 0 {
			*zoom = a.ratio * min(ps[0].w/float64(w), ps[0].h/float64(h))
			a.meetAt(float64(w-1)/2, float64(h-1)/2)
		}
	case percent > 0:
		*zoom = percent / 100
	case by > 0:
		*zoom *= by
	}
	*zoom = min(max(*zoom, leastMarkZoom*min(a.ratio, 1)), mostMarkZoom)
}

// zoomShown is the enlargement that the page speaks of.
func (a *app) zoomShown() float64 {
	if a.look == "marks" {
		return a.marking.zoom
	}
	return a.zoom
}

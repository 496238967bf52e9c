//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"math"

	"threeply/proof/affine"
)

// sight is how the picture is looked at; it is not part of the session's
// history.
type sight struct {
	look     string // one of looks
	tool     string // "pan", "nudge", "sample" or "line"; at the three plates "pan" or "pin"
	layer    string // the layer that looks at one layer show
	edges    [2]int // the two printers of "edges"
	plates   [2]int // the two printers whose plates "plate" and "turns" show
	selected string // the layer that nudges move, "" for none
	blinked  bool   // in "blink" and "turns": the second picture stands

	w, h, ratio float64 // the stage in CSS pixels, device pixels a CSS pixel
	cx, cy      float64 // key pixel at the middle of each frame
	zoom        float64 // device pixels a key pixel
	fitted      bool    // zoom follows the stage
	divider     float64 // "divided": share of the frame that the reference has

	at    [2]float64 // key pixel under the pointer
	atSet bool

	marking marking
	loupe   loupe

	contrast bool // enlarged plates show the tones in sight over the whole scale

	whole bool       // the plates' borders are shown too
	frame [4]float64 // edges of what is shown, in key pixels: x0, y0, x1, y1
}

type namedLook struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Of   string `json:"of"` // what is looked at: "print" or "plates"
}

// The ways of looking, in the order of the page: at the print, then at its
// plates.
var looks = []namedLook{
	{"beside", "beside", "print"}, {"divided", "divided", "print"}, {"blink", "blink", "print"}, {"difference", "difference", "print"},
	{"reach", "out of reach", "print"}, {"sure", "lighter, heavier", "print"},
	{"ways", "two ways", "print"}, {"rooms", "two rooms", "print"}, {"board", "all palettes", "print"},
	{"layer", "one layer", "plates"}, {"plate", "one plate", "plates"}, {"turns", "two plates by turns", "plates"},
	{"edges", "edges", "plates"}, {"marks", "marks", "plates"},
}

// what a pane shows.
const (
	showReference = iota
	showPrint
	showEdges
	showDifference
	showPlate
	showReach
)

// pane is one picture on the stage, in CSS pixels.
type pane struct {
	ID, Label  string
	show       int
	only       string  // the one layer shown, "" for all
	plate      int     // of showPlate: its printer
	variant    int     // of the print: likely, lighter …
	way        int     // of printing: as chosen, straight or masked
	slot       int     // the windows that it is looked at through
	x, y, w, h float64 // the room it has
	shift      float64 // a divided pane shows the picture of the whole frame: CSS pixels that its own x lies to the right
	full       float64 // width of that frame

	magnified *magnified // has a view of its own; nil for the common one
	direct    bool       // magnified is of the plate's own pixels, not the key's
}

// magnified is a view of a pane's own: the pixel in its middle, device pixels a
// pixel of the key, and how far the plate is turned and stretched against it.
type magnified struct {
	x, y, zoom float64
	linear     affine.Matrix // key → plate, without the shift
}

const (
	margin  = 20.0 // around the frames, CSS pixels
	caption = 30.0 // above each frame
)

func newSight() sight {
	return sight{look: "beside", tool: "pan", layer: "cyan", edges: [2]int{1, 2}, plates: [2]int{1, 2}, ratio: 1, w: 800, h: 500, fitted: true, divider: 0.5, zoom: 1, marking: marking{zoom: 4}, loupe: loupe{zoom: 4}}
}

// plateNames are the plates by the printer that each makes.
var plateNames = [3]string{"blue", "green", "red"}

// panes lays the frames out for the look.
func (s *sight) panes() []pane {
	w, h := s.w-2*margin, s.h-margin-caption
	if w < 40 || h < 40 || s.look == "board" {
		return nil
	}
	x, y := margin, caption
	one := func(id, label string, show int) pane {
		return pane{ID: id, Label: label, show: show, x: x, y: y, w: w, h: h, full: w}
	}
	ref, print := one("reference", "Reference", showReference), one("print", "Likely print", showPrint)
	switch s.look {
	case "divided":
		cut := math.Round(w * s.divider)
		ref.w = cut
		print.x, print.w, print.shift = x+cut, w-cut, cut
		return []pane{ref, print}
	case "blink":
		if s.blinked {
			return []pane{print}
		}
		return []pane{ref}
	case "difference":
		return []pane{one("difference", "Difference, ΔE00 print to reference", showDifference)}
	case "reach":
		return []pane{one("reach", "Out of reach: how far, in units of CIELAB", showReach)}
	case "sure":
		light, heavy := one("lighter", "Lighter", showPrint), one("heavier", "Heavier", showPrint)
		light.variant, heavy.variant = lighter, heavier
		print.Label = "Likely"
		return s.abreast(light, print, heavy)
	case "ways":
		left, right := one("straight", "Printed straight", showPrint), one("masked", "Printed masked", showPrint)
		left.way, right.way = straight, masked
		return s.abreast(left, right)
	case "rooms":
		left, right := one("bench", "On the bench", showPrint), one("gallery", "In the dim gallery", showPrint)
		left.variant, right.variant = onBench, inGallery
		return s.abreast(left, right)
	case "layer":
		p := one("layer", "The "+s.layer+" layer alone on the paper", showPrint)
		p.only = s.layer
		return []pane{p}
	case "plate", "turns":
		which := s.plates[0]
		if s.look == "turns" && s.blinked {
			which = s.plates[1]
		}
		p := one("plate", "The "+plateNames[which]+" plate, as light", showPlate)
		p.plate = which
		return []pane{p}
	case "edges":
		names := [3]string{"yellow", "magenta", "cyan"}
		return []pane{one("edges", fmt.Sprintf("Edges: light where only %s has one, dark where only %s has", names[s.edges[0]], names[s.edges[1]]), showEdges)}
	case "marks":
		return s.abreast(s.markPanes(one)...)
	}
	return s.abreast(ref, print)
}

// abreast gives panes of equal width a place side by side.
func (s *sight) abreast(ps ...pane) []pane {
	n := float64(len(ps))
	each := math.Floor((s.w - 2*margin - (n-1)*margin) / n)
	for i := range ps {
		ps[i].x, ps[i].w, ps[i].full = margin+float64(i)*(each+margin), each, each
	}
	return ps
}

// zoomOf is how many device pixels a pixel of what a pane shows takes.
func (s *sight) zoomOf(p pane) float64 {
	if m := p.magnified; m != nil {
		return m.zoom / math.Sqrt(math.Abs(m.linear.Det()))
	}
	return s.zoom
}

// view takes a device pixel of the canvas to the key's pixel, for a pane; for a
// direct one, to its plate's.
func (s *sight) view(p pane) affine.Matrix {
	if m := p.magnified; m != nil {
		mid := affine.Translate(0.5-(p.x+p.w/2)*s.ratio, 0.5-(p.y+p.h/2)*s.ratio)
		return affine.Translate(m.x, m.y).Mul(m.linear).Mul(affine.Scale(1/m.zoom, 1/m.zoom)).Mul(mid)
	}
	mx := (p.x - p.shift + p.full/2) * s.ratio
	my := (p.y + p.h/2) * s.ratio
	k := 1 / s.zoom
	return affine.Matrix{k, 0, s.cx - (mx-0.5)*k, 0, k, s.cy - (my-0.5)*k}
}

// shown is the part of the pane that the picture covers, in device pixels:
// whole numbers, x0, y0, x1, y1.
func (s *sight) shown(p pane) (x0, y0, x1, y1 int) {
	if p.magnified != nil { // it is full
		r := s.ratio
		return int(math.Round(p.x * r)), int(math.Round(p.y * r)), int(math.Round((p.x + p.w) * r)), int(math.Round((p.y + p.h) * r))
	}
	inv, _ := s.view(p).Inverse()
	l, t := inv.Apply(s.frame[0], s.frame[1])
	r, b := inv.Apply(s.frame[2], s.frame[3])
	x0 = int(math.Round(max(l+0.5, p.x*s.ratio)))
	y0 = int(math.Round(max(t+0.5, p.y*s.ratio)))
	x1 = int(math.Round(min(r+0.5, (p.x+p.w)*s.ratio)))
	y1 = int(math.Round(min(b+0.5, (p.y+p.h)*s.ratio)))
	return x0, y0, max(x0, x1), max(y0, y1)
}

// fitZoom is the zoom at which all that is shown stands in a frame.
func (s *sight) fitZoom() float64 {
	ps := s.panes()
	w, h := s.frame[2]-s.frame[0], s.frame[3]-s.frame[1]
	if len(ps) == 0 || w <= 0 || h <= 0 {
		return 1
	}
	return s.ratio * min(ps[0].full/w, ps[0].h/h)
}

// refit holds a fitted view to the stage.
func (s *sight) refit() {
	if s.fitted {
		s.zoom = s.fitZoom()
		s.cx, s.cy = (s.frame[0]+s.frame[2])/2, (s.frame[1]+s.frame[3])/2
	}
}

// zoomTo sets the zoom so that the key pixel under (x, y), in CSS pixels of
// the stage, stays there.
func (s *sight) zoomTo(zoom, x, y float64) {
	low := min(s.fitZoom(), 1) / 2
	zoom = min(max(zoom, low), 16*s.ratio)
	kx, ky := s.keyAt(x, y)
	s.zoom, s.fitted = zoom, false
	nx, ny := s.keyAt(x, y)
	s.cx += kx - nx
	s.cy += ky - ny
	s.hold()
}

// hold keeps the picture from leaving the frames.
func (s *sight) hold() {
	s.cx = min(max(s.cx, s.frame[0]), s.frame[2])
	s.cy = min(max(s.cy, s.frame[1]), s.frame[3])
}

// paneAt returns the pane under a point of the stage, or the first.
func (s *sight) paneAt(x, y float64) (pane, bool) {
	ps := s.panes()
	for _, p := range ps {
		if x >= p.x && x < p.x+p.w && y >= p.y && y < p.y+p.h {
			return p, true
		}
	}
	if len(ps) == 0 {
		return pane{}, false
	}
	return ps[0], false
}

// keyAt returns the key pixel under a point of the stage in CSS pixels.
func (s *sight) keyAt(x, y float64) (float64, float64) {
	p, _ := s.paneAt(x, y)
	return s.view(p).Apply(x*s.ratio-0.5, y*s.ratio-0.5)
}

// stage takes the stage's size.
func (s *sight) stage(w, h, ratio float64) {
	s.w, s.h, s.ratio = w, h, ratio
	s.refit()
}

// sightCommand is what the commands on how things are looked at have in common.
type sightCommand struct {
	Do      string
	ID      string
	Printer string
	Filter  string
	N       int
	On      bool
	Hidden  bool
	Gesture string // see command.History.Do
}

// lookDo carries out the commands on how things are looked at; done is false
// where c is none of them.
func (a *app) lookDo(c sightCommand, text []byte) (done bool, err error) {
	switch c.Do {
	case "station":
		a.station = c.ID
	case "look":
		a.turnLook(c.ID)
	case "blink":
		a.blinked = !a.blinked
	case "tool":
		if a.tool = c.ID; c.ID == "pin" && a.look != "marks" {
			a.turnLook("marks")
		}
	case "layer":
		a.layer = c.ID
	case "edges", "plates":
		var pair struct{ First, Second int }
		if err := json.Unmarshal(text, &pair); err != nil || pair.First < 0 || pair.First > 2 || pair.Second < 0 || pair.Second > 2 {
			return true, fmt.Errorf("%s needs two of the layers 0 to 2", c.Do)
		}
		if c.Do == "edges" {
			a.edges = [2]int{pair.First, pair.Second}
		} else {
			a.sight.plates = [2]int{pair.First, pair.Second}
		}
	case "select":
		a.selected = c.Printer
	case "edit":
		a.edit(c.Printer)
	case "zoom":
		a.zoomCommand(text)
	case "pan":
		if a.look == "marks" {
			a.panMarks(text)
			return true, nil
		}
		a.cx -= number(text, "dx") * a.ratio / a.zoom
		a.cy -= number(text, "dy") * a.ratio / a.zoom
		a.fitted = false
		a.hold()
	case "whole":
		a.whole = !c.Hidden
		a.reframe()
	case "left":
		a.left.shown = !c.Hidden
	case "worst":
		return true, a.worst()
	case "divider":
		a.divider = min(max(number(text, "share"), 0.05), 0.95)
	case "point":
		a.at[0], a.at[1] = a.keyAt(number(text, "x"), number(text, "y"))
		w, h := a.Frame()
		a.atSet = a.has() && a.at[0] >= 0 && a.at[1] >= 0 && a.at[0] <= float64(w-1) && a.at[1] <= float64(h-1)
	case "loupe":
		a.loupe.on = c.On
		if z := number(text, "zoom"); z > 0 {
			a.loupe.zoom = min(max(z, 1), 32)
		}
	case "hover": // the pointer over the stage, or, where it is hidden, gone
		a.loupe.at, a.loupe.over = [2]float64{number(text, "x"), number(text, "y")}, !c.Hidden
		a.loupe.sure = true
	default:
		if done, err := a.pinsDo(c, text); done {
			return true, err
		}
		return a.galleryDo(c, text)
	}
	return true, nil
}

// zoomCommand: by a factor about a point of the stage or its middle, to a
// percentage (100: one scan pixel a screen pixel), or to fit.
func (a *app) zoomCommand(text []byte) {
	var z struct {
		By, Percent float64
		Fit         bool
		X, Y        *float64
	}
	if json.Unmarshal(text, &z) != nil || !a.has() {
		return
	}
	if a.look == "marks" {
		a.zoomMarks(z.By, z.Percent, z.Fit)
		return
	}
	p, _ := a.paneAt(0, 0)
	x, y := p.x+p.full/2, p.y+p.h/2
	if z.X != nil && z.Y != nil {
		x, y = *z.X, *z.Y
	}
	switch {
	case z.Fit:
		a.fitted = true
		a.refit()
	case z.Percent > 0:
		a.zoomTo(z.Percent/100, x, y)
	case z.By > 0:
		a.zoomTo(a.zoom*z.By, x, y)
	}
}

// number reads one field of a command.
func number(text []byte, field string) float64 {
	var m map[string]any
	if json.Unmarshal(text, &m) != nil {
		return 0
	}
	v, _ := m[field].(float64)
	return v
}

package view

import (
	"image"
	"math"
	"slices"

	"threeply/proof/filter"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
)

// PanePin is a mark in a pane, at a point of the stage.
type PanePin struct {
	N        int     `json:"n"`
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	Proposed bool    `json:"proposed"`
	Chosen   bool    `json:"chosen"`
	Filter   string  `json:"filter"` // of the plate that it can be dragged in, "" for none
}

// Pins places the session's marks in a pane: in one of a single plate where that plate
// is pinned, else at the key's place. Marks beyond what the pane shows are left out.
func (v *View) Pins(s *session.State, p Pane) []PanePin {
	out := []PanePin{}
	toStage, ok := v.ToPixel(p).Inverse()
	if !ok {
		return out
	}
	covered := v.Covered(p)
	for _, m := range s.Marks {
		x, y, proposed, ok := placeIn(s, p, m)
		if !ok {
			continue
		}
		if x, y = toStage.Apply(x, y); !within(covered, x, y) {
			continue
		}
		x, y = v.OnStage(x, y)
		one := PanePin{N: m.N, X: hundredth(x), Y: hundredth(y), Proposed: proposed, Chosen: m.N == v.Marking.Mark}
		if p.OwnFrame {
			one.Filter = filter.Of(p.Plate).String()
		}
		out = append(out, one)
	}
	return out
}

// within tells whether a device pixel lies in a rectangle, its far edges included.
func within(r image.Rectangle, x, y float64) bool {
	return x >= float64(r.Min.X) && y >= float64(r.Min.Y) && x <= float64(r.Max.X) && y <= float64(r.Max.Y)
}

func hundredth(v float64) float64 { return math.Round(100*v) / 100 }

// placeIn is where a pane shows a mark, in the pixels that the pane shows.
func placeIn(s *session.State, p Pane, m session.Pinned) (x, y float64, proposed, ok bool) {
	layer := -1
	if p.Shows == ShowsPlate {
		layer = int(p.Plate)
	} else if p.Only != "" {
		layer = slices.Index(layerNames[:], p.Only)
	}
	if layer < 0 { // all layers are shown: by the key
		k := s.KeySource()
		x, y, ok = keyPlace(s, m)
		if ok {
			x, y, ok = onPrint(s, printerFor(s, k), x, y)
		}
		return x, y, !m.At[k].Set || m.At[k].Proposed, ok
	}
	pin := m.At[s.SourceOf(pigment.Printer(layer))]
	if p.OwnFrame || !pin.Set {
		return pin.X, pin.Y, pin.Proposed, pin.Set
	}
	x, y, ok = onPrint(s, pigment.Printer(layer), pin.X, pin.Y)
	return x, y, pin.Proposed, ok
}

func printerFor(s *session.State, source int) pigment.Printer {
	for p := range pigment.Printer(3) {
		if s.SourceOf(p) == source {
			return p
		}
	}
	return pigment.Magenta
}

// onPrint takes a pixel of a layer's plate to the key's where the print shows it.
func onPrint(s *session.State, layer pigment.Printer, x, y float64) (float64, float64, bool) {
	return place.Layer(s, layer).Back(x, y)
}

package view

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/session"
)

// Loupe shows the three plates enlarged beside the pointer, as they lie on the print.
type Loupe struct {
	On   bool    `json:"on"`
	Zoom float64 `json:"zoom"` // device pixels a pixel of the key

	pointer  [2]float64 // on the stage
	pointing pointing
}

// pointing is what is known of the pointer.
type pointing int

const (
	neverSeen pointing = iota // the loupe looks at the middle
	overStage
	gone // the loupe is not shown
)

// The zoom of the loupe keeps between these.
const leastLoupeZoom, mostLoupeZoom = 1, 32

// The loupe's measures.
const (
	loupeSide  = 150.0 // of a pane, where the stage has room
	loupeLeast = 48.0  // smaller ones show nothing
	loupeGap   = 6.0   // between and around the panes
	loupeLabel = 20.0  // above them
	loupeAway  = 26.0  // from the pointer
)

// aim is the point of the stage that the loupe enlarges.
func (v *View) aim() (x, y float64) {
	if v.Loupe.pointing != neverSeen {
		return v.Loupe.pointer[0], v.Loupe.pointer[1]
	}
	if panes := v.Panes(); len(panes) > 0 {
		return panes[0].X + panes[0].W/2, panes[0].Y + panes[0].H/2
	}
	return v.Stage.W / 2, v.Stage.H / 2
}

// layLoupe places the loupe below the pointer or above it, whichever has room, so that
// it never covers the place; ok is false where it is not shown.
func (v *View) layLoupe() (box Box, side float64, ok bool) {
	if !v.Loupe.On || v.Loupe.pointing == gone {
		return Box{}, 0, false
	}
	x, y := v.aim()
	below, above := v.Stage.H-y-loupeAway, y-loupeAway
	side = math.Floor(min(loupeSide, (v.Stage.W-4*loupeGap)/3, max(below, above)-loupeLabel-2*loupeGap))
	if side < loupeLeast {
		return Box{}, 0, false
	}
	box = Box{W: 3*side + 4*loupeGap, H: side + loupeLabel + loupeGap}
	box.X = math.Round(min(max(x-box.W/2, 0), v.Stage.W-box.W))
	box.Y = y + loupeAway
	if below < box.H+loupeGap && above > below {
		box.Y = y - loupeAway - box.H
	}
	box.Y = math.Round(max(box.Y, 0))
	return box, side, true
}

// LoupePanes are the red, green and blue plate about the place under the pointer, and
// the box about all three; none where the loupe is not shown.
func (v *View) LoupePanes(s *session.State) ([]Pane, Box) {
	box, side, ok := v.layLoupe()
	if !ok || !open(s) {
		return nil, Box{}
	}
	x, y := v.aim()
	under, inside := v.PaneAt(x, y)
	if !inside {
		return nil, Box{}
	}
	kx, ky := v.PixelAt(under, x, y)
	if under.OwnFrame {
		back, ok := BestPlace(s, s.SourceOf(under.Plate)).Inverse()
		if !ok {
			return nil, Box{}
		}
		kx, ky = back.Apply(kx, ky)
	}
	var out []Pane
	for f, name := range session.Filters {
		out = append(out, Pane{
			Box: Box{box.X + loupeGap + float64(f)*(side+loupeGap), box.Y + loupeLabel, side, side}, wholeW: side,
			ID: "loupe", Label: name + " plate", Shows: ShowsPlate, Plate: filter.Filter(f).Printer(), InLoupe: true,
			enlarged: &enlarged{kx, ky, v.Loupe.Zoom, affine.Identity},
		})
	}
	return out, box
}

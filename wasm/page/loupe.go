//go:build js

package main

import (
	"image"
	"image/color"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/affine"
)

// loupe shows the three plates enlarged beside the pointer, as they lie on the
// print.
type loupe struct {
	on   bool
	zoom float64    // device pixels a pixel of the key
	at   [2]float64 // the pointer on the stage, CSS pixels
	over bool       // the pointer is over the stage
	sure bool       // the pointer has been there: else the loupe looks at the middle
}

// loupeModel is the loupe's box and its panes, in CSS pixels of the stage.
type loupeModel struct {
	On    bool         `json:"on"`
	Zoom  float64      `json:"zoom"`
	X     float64      `json:"x"`
	Y     float64      `json:"y"`
	W     float64      `json:"w"`
	H     float64      `json:"h"`
	Panes []frameModel `json:"panes"` // empty where the loupe is not shown
}

// The loupe's measures, in CSS pixels.
const (
	loupeSide  = 150.0 // of a pane, where the stage has room
	loupeLeast = 48.0  // smaller ones show nothing
	loupeGap   = 6.0   // between and around the panes
	loupeLabel = 20.0  // above them
	loupeAway  = 26.0  // from the pointer
)

var loupeGround = color.RGBA{0x2c, 0x2c, 0x2c, 255}

// layLoupe places the loupe: under the pointer or over it, whichever has room,
// so that it never covers the place; ok is false where there is nothing to show.
func (s *sight) layLoupe() (x, y, side float64, ok bool) {
	if !s.loupe.on || s.loupe.sure && !s.loupe.over {
		return 0, 0, 0, false
	}
	px, py := s.loupe.at[0], s.loupe.at[1]
	if !s.loupe.sure {
		px, py = s.middle()
	}
	below, above := s.h-py-loupeAway, py-loupeAway
	side = min(loupeSide, (s.w-4*loupeGap)/3, max(below, above)-loupeLabel-2*loupeGap)
	if side = math.Floor(side); side < loupeLeast {
		return 0, 0, 0, false
	}
	w, h := 3*side+4*loupeGap, side+loupeLabel+loupeGap
	y = py + loupeAway
	if below < h+loupeGap && above > below {
		y = py - loupeAway - h
	}
	return math.Round(min(max(px-w/2, 0), s.w-w)), math.Round(max(y, 0)), side, true
}

// middle is the middle of the first pane, CSS pixels.
func (s *sight) middle() (x, y float64) {
	if ps := s.panes(); len(ps) > 0 {
		return ps[0].x + ps[0].w/2, ps[0].y + ps[0].h/2
	}
	return s.w / 2, s.h / 2
}

// loupePanes are the red, green and blue plate about the place of the key under
// the pointer.
func (a *app) loupePanes() []pane {
	x, y, side, ok := a.layLoupe()
	if !ok || !a.has() {
		return nil
	}
	px, py := a.loupe.at[0], a.loupe.at[1]
	if !a.loupe.sure {
		px, py = a.middle()
	}
	under, inside := a.paneAt(px, py)
	if !inside {
		return nil
	}
	kx, ky := a.view(under).Apply(px*a.ratio-0.5, py*a.ratio-0.5)
	if under.direct {
		back, ok := a.lay(a.Assign[2-under.plate]).Inverse()
		if !ok {
			return nil
		}
		kx, ky = back.Apply(kx, ky)
	}
	var out []pane
	for f, name := range [3]string{"red plate", "green plate", "blue plate"} {
		out = append(out, pane{
			ID: "loupe", Label: name, show: showPlate, plate: 2 - f, slot: slotLoupe,
			x: x + loupeGap + float64(f)*(side+loupeGap), y: y + loupeLabel, w: side, h: side, full: side,
			magnified: &magnified{kx, ky, a.loupe.zoom, affine.Identity},
		})
	}
	return out
}

// drawLoupe paints the loupe over the panes.
func (a *app) drawLoupe(dst *ebiten.Image) {
	panes := a.loupePanes()
	if len(panes) == 0 {
		return
	}
	m := a.loupeModel()
	r := func(v float64) int { return int(math.Round(v * a.ratio)) }
	box := image.Rect(r(m.X), r(m.Y), r(m.X+m.W), r(m.Y+m.H))
	dst.SubImage(box).(*ebiten.Image).Fill(loupeGround)
	for _, p := range panes {
		x0, y0, x1, y1 := a.shown(p)
		a.drawPane(dst, p, image.Rect(x0, y0, x1, y1), a.view(p))
	}
}

func (a *app) loupeModel() loupeModel {
	m := loupeModel{On: a.loupe.on, Zoom: a.loupe.zoom, Panes: []frameModel{}}
	panes := a.loupePanes()
	for _, p := range panes {
		m.Panes = append(m.Panes, frameModel{ID: p.ID, Label: p.Label, X: p.x, Y: p.y, W: p.w, H: p.h})
	}
	if n := len(panes); n > 0 {
		m.X, m.Y = panes[0].x-loupeGap, panes[0].y-loupeLabel
		m.W, m.H = panes[n-1].x+panes[n-1].w+loupeGap-m.X, panes[0].h+loupeLabel+loupeGap
	}
	return m
}

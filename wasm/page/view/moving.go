package view

import (
	"fmt"

	"threeply/proof/filter"
	"threeply/proof/session"
)

// What the pictures are moved and enlarged by. Points and ways are of the stage.
type (
	// Zoom enlarges by a factor about a point or the middle, or to a percentage (100: a
	// device pixel shows a pixel of the key), or so that all that is shown fits.
	Zoom struct {
		point
		By      float64 `json:"by,omitempty"`
		Percent float64 `json:"percent,omitempty"`
		Fit     bool    `json:"fit,omitempty"`
	}
	// Pan moves the pictures; of the three plates side by side the one under the point,
	// or all.
	Pan struct {
		point
		DX       float64 `json:"dx"`
		DY       float64 `json:"dy"`
		Together bool    `json:"together,omitempty"`
	}
	// MoveDivider gives the reference a share of the width in the look "divided".
	MoveDivider struct {
		Share float64 `json:"share"`
	}
	// ReadColours reads the colours under a point.
	ReadColours struct {
		X float64 `json:"x"`
		Y float64 `json:"y"`
	}
	// Hover says where the pointer is, or, hidden, that it has left the stage.
	Hover struct {
		X      float64 `json:"x"`
		Y      float64 `json:"y"`
		Hidden bool    `json:"hidden,omitempty"`
	}
	// SetLoupe switches the loupe, and sets its zoom where one is given.
	SetLoupe struct {
		On   bool    `json:"on"`
		Zoom float64 `json:"zoom,omitempty"`
	}
	// GoToWorst goes to the next of the places where register leaves most.
	GoToWorst struct{}
	// ChooseMark takes a mark up, and its pin in a plate; 0 lets go.
	ChooseMark struct {
		N      int    `json:"n,omitempty"`
		Filter string `json:"filter,omitempty"`
	}
	// NextPlate has the keys move the chosen mark's pin in the next plate.
	NextPlate struct{}
	// NextMark takes up the next mark and goes there.
	NextMark struct{}
	// GoToMark takes up a mark and goes there.
	GoToMark struct {
		N int `json:"n"`
	}
	// SetTogether has a drag pan all three plates.
	SetTogether struct {
		On bool `json:"on"`
	}
)

func (c Zoom) apply(v *View, on Subject) error {
	switch {
	case !open(on.State):
	case v.Look == "marks":
		v.zoomMarking(c, on.State)
	case c.Fit:
		v.Fitted, v.Worst = true, Worst{}
		v.fit()
	default:
		p, _ := v.PaneAt(0, 0)
		x, y := p.X+p.wholeW/2, p.Y+p.H/2
		if c.given() {
			x, y = *c.X, *c.Y
		}
		if c.Percent > 0 {
			v.zoomTo(c.Percent/100, x, y)
		} else if c.By > 0 {
			v.zoomTo(v.Zoom*c.By, x, y)
		}
	}
	return nil
}

func (v *View) zoomMarking(c Zoom, s *session.State) {
	switch {
	case c.Fit:
		v.fitPlates(s)
	case c.Percent > 0:
		v.zoomPlates(c.Percent / 100)
	case c.By > 0:
		v.zoomPlates(v.Marking.Zoom * c.By)
	}
}

func (c Pan) apply(v *View, on Subject) error {
	if v.Look == "marks" {
		only := -1
		if c.given() && !c.Together && !v.Marking.Together {
			p, _ := v.PaneAt(*c.X, *c.Y)
			only = int(filter.Of(p.Plate))
		}
		v.panPlates(on.State, only, c.DX, c.DY)
		return nil
	}
	v.PanBy(c.DX, c.DY)
	return nil
}

// PanBy moves the pictures, in all looks but "marks".
func (v *View) PanBy(dx, dy float64) {
	v.Centre[0] -= dx * v.Stage.Ratio / v.Zoom
	v.Centre[1] -= dy * v.Stage.Ratio / v.Zoom
	v.Fitted = false
	v.hold()
}

// The divider leaves either picture this share of the width.
const leastShare, mostShare = 0.05, 0.95

func (c MoveDivider) apply(v *View, _ Subject) error {
	v.Divider = min(max(c.Share, leastShare), mostShare)
	return nil
}

func (c ReadColours) apply(v *View, on Subject) error {
	x, y := v.KeyAt(c.X, c.Y)
	w, h := on.Frame()
	v.Reading = nil
	if _, seen := v.SeenAt(c.X, c.Y); seen && open(on.State) && x >= 0 && y >= 0 && x <= float64(w-1) && y <= float64(h-1) {
		v.Reading = &[2]float64{x, y}
	}
	return nil
}

func (c Hover) apply(v *View, _ Subject) error {
	v.Loupe.pointer, v.Loupe.pointing = [2]float64{c.X, c.Y}, overStage
	if c.Hidden {
		v.Loupe.pointing = gone
	}
	return nil
}

func (c SetLoupe) apply(v *View, _ Subject) error {
	v.Loupe.On = c.On
	if c.Zoom > 0 {
		v.Loupe.Zoom = min(max(c.Zoom, leastLoupeZoom), mostLoupeZoom)
	}
	return nil
}

func (GoToWorst) apply(v *View, on Subject) error { return v.goToWorst(on.State, on.Residual) }

func (c ChooseMark) apply(v *View, _ Subject) error {
	f := session.FilterIndex(c.Filter)
	if c.Filter != "" && f < 0 {
		return fmt.Errorf("no plate “%s”: there are red, green and blue", c.Filter)
	}
	v.Marking.Mark = c.N
	if f >= 0 {
		v.Marking.Filter = f
	}
	return nil
}

func (NextPlate) apply(v *View, _ Subject) error {
	v.Marking.Filter = (v.Marking.Filter + 1) % 3
	return nil
}

func (NextMark) apply(v *View, on Subject) error {
	if n := v.nextMark(on.State); n != 0 {
		v.Marking.Mark = n
		v.goToMark(on.State)
	}
	return nil
}

func (c GoToMark) apply(v *View, on Subject) error {
	v.Marking.Mark = c.N
	v.goToMark(on.State)
	return nil
}

func (c SetTogether) apply(v *View, _ Subject) error {
	v.Marking.Together = c.On
	return nil
}

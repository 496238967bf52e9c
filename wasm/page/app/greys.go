package app

import (
	"math"

	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// What points at greys where they are seen on the stage. Points are CSS pixels of the
// stage.
type (
	// GreyAt has the grey under a point read, with those that were pointed at before.
	GreyAt struct {
		X float64 `json:"x"`
		Y float64 `json:"y"`
	}
	// ScaleHere begins the line along a grey scale at a point, as keys do, and ends one that
	// was begun, which has the scale read.
	ScaleHere struct {
		X float64 `json:"x"`
		Y float64 `json:"y"`
	}
	// ScaleAt has a grey scale read along the line between two points.
	ScaleAt struct {
		X0 float64 `json:"x0"`
		Y0 float64 `json:"y0"`
		X1 float64 `json:"x1"`
		Y1 float64 `json:"y1"`
	}
)

func (c GreyAt) do(a *App, _ string) error {
	p, inside := a.View.SeenAt(c.X, c.Y)
	if !inside || p.OwnFrame || !a.Plates.Open() {
		return nil
	}
	x, y := a.View.PixelAt(p, c.X, c.Y)
	if w, h := a.Frame(); x > -0.5 && y > -0.5 && x < float64(w)-0.5 && y < float64(h)-0.5 {
		a.Desk.Point(session.Spot{X: x, Y: y})
	}
	return nil
}

func (c ScaleHere) do(a *App, _ string) error {
	p, inside := a.View.SeenAt(c.X, c.Y)
	if !inside || p.OwnFrame || !a.Plates.Open() {
		return nil
	}
	here := a.spotAt(p, c.X, c.Y)
	from := a.View.From
	if from == nil {
		a.View.From = &[2]float64{here.X, here.Y}
		return nil
	}
	if math.Hypot(here.X-from[0], here.Y-from[1]) < leastScale {
		return nil // the picture was not moved yet
	}
	a.View.From = nil
	a.Desk.Lay(session.Spot{X: from[0], Y: from[1]}, here)
	return nil
}

// leastScale is the shortest line, in pixels of the key, that keys draw along a scale.
const leastScale = 8

// spotAt is a pixel of the key at a point of a pane; beyond the picture it is its edge.
func (a *App) spotAt(p view.Pane, x, y float64) session.Spot {
	w, h := a.Frame()
	x, y = a.View.PixelAt(p, x, y)
	return session.Spot{X: min(max(x, 0), float64(w-1)), Y: min(max(y, 0), float64(h-1))}
}

func (c ScaleAt) do(a *App, _ string) error {
	a.View.Rule, a.View.From = nil, nil
	p, inside := a.View.SeenAt(c.X0, c.Y0)
	if !inside || p.OwnFrame || !a.Plates.Open() {
		return nil
	}
	a.Desk.Lay(a.spotAt(p, c.X0, c.Y0), a.spotAt(p, c.X1, c.Y1)) // a hand that draws beyond the picture means its edge
	return nil
}

package app

import "threeply/proof/session"

// What points at greys where they are seen on the stage. Points are CSS pixels of the
// stage.
type (
	// GreyAt has the grey under a point read, with those that were pointed at before.
	GreyAt struct {
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
	p, inside := a.View.PaneAt(c.X, c.Y)
	if !inside || p.OwnFrame || !a.Plates.Open() {
		return nil
	}
	x, y := a.View.PixelAt(p, c.X, c.Y)
	if w, h := a.Frame(); x > -0.5 && y > -0.5 && x < float64(w)-0.5 && y < float64(h)-0.5 {
		a.Desk.Point(session.Spot{X: x, Y: y})
	}
	return nil
}

func (c ScaleAt) do(a *App, _ string) error {
	a.View.Rule = nil
	p, inside := a.View.PaneAt(c.X0, c.Y0)
	if !inside || p.OwnFrame || !a.Plates.Open() {
		return nil
	}
	w, h := a.Frame()
	at := func(x, y float64) session.Spot { // a hand that draws beyond the picture means its edge
		x, y = a.View.PixelAt(p, x, y)
		return session.Spot{X: min(max(x, 0), float64(w-1)), Y: min(max(y, 0), float64(h-1))}
	}
	a.Desk.Lay(at(c.X0, c.Y0), at(c.X1, c.Y1))
	return nil
}

package app

import (
	"math"

	"threeply/proof/command"
	"threeply/wasm/page/view"
)

// PointAt reads the colours under a point of the stage, in CSS pixels, and holds the place.
type PointAt struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

func (c PointAt) do(a *App, _ string) error {
	if err := a.View.Do(view.ReadColours(c), a.subject()); err != nil || a.View.Reading == nil {
		return err
	}
	at := a.View.Reading
	if err := a.History.Do(command.HoldPoint{X: math.Round(100*at[0]) / 100, Y: math.Round(100*at[1]) / 100}, ""); err != nil {
		return err
	}
	return a.update()
}

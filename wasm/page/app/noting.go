package app

import (
	"math"
	"time"

	"threeply/proof/command"
	"threeply/wasm/page/view"
)

// What pins notes where the print is looked at.
type (
	// NoteAt pins a new note to the place under a point of the stage, in CSS pixels, and
	// chooses it. It is signed as the one before.
	NoteAt struct {
		X float64 `json:"x"`
		Y float64 `json:"y"`
	}
	// NoteHere pins one to the place in the middle.
	NoteHere struct{}
)

func (c NoteAt) do(a *App, _ string) error {
	p, inside := a.View.SeenAt(c.X, c.Y)
	if !inside || p.OwnFrame || !a.Plates.Open() {
		return nil
	}
	x, y := a.View.PixelAt(p, c.X, c.Y)
	if w, h := a.Frame(); x > -0.5 && y > -0.5 && x < float64(w)-0.5 && y < float64(h)-0.5 {
		return a.note(x, y)
	}
	return nil
}

func (NoteHere) do(a *App, _ string) error {
	if !a.Plates.Open() {
		return nil
	}
	w, h := a.Frame()
	return a.note(min(max(a.View.Centre[0], 0), float64(w-1)), min(max(a.View.Centre[1], 0), float64(h-1)))
}

func (a *App) note(x, y float64) error {
	c := command.Note{X: math.Round(100*x) / 100, Y: math.Round(100*y) / 100, At: time.Now().UTC().Format(time.RFC3339)}
	if n := len(a.Notes); n > 0 {
		c.By = a.Notes[n-1].By
	}
	n := a.NextNote()
	if err := a.History.Do(c, ""); err != nil {
		return err
	}
	a.View.Noting = view.Noting{Note: n}
	if a.View.Tool == "note" { // one click, one note: the next click is not meant for another
		a.View.Tool = "pan"
	}
	return a.update()
}

package app

import (
	"threeply/proof/pigment"
)

// What a hand moves is followed in every frame, by these and not by commands: nothing is
// read, checked or worked out anew for it, and nothing is allocated. Once it rests, or now
// and then on the way, the page reads the model again; see Rest.

// PanBy moves the pictures by points of the stage as the command "pan" does; false where it
// is the command's to do.
func (a *App) PanBy(dx, dy float64) bool {
	if !a.Plates.Open() || a.View.Look == "marks" {
		return false
	}
	a.View.PanBy(dx, dy)
	return true
}

// NudgeBy moves a layer on the print, in µm, as the command "nudgeBy" of the same gesture
// before it; false where it is the command's to do.
func (a *App) NudgeBy(p pigment.Printer, dxUm, dyUm float64, gesture string) bool {
	return a.History.Glide(p, dxUm, dyUm, gesture)
}

// Rest takes note of how things are looked at now.
func (a *App) Rest() { a.noteSight() }

package app

import (
	"fmt"

	"threeply/proof/command"
	"threeply/proof/session"
	"threeply/wasm/page/view"
)

// StateAt is the session as it would be with the print that stands at a side, "left" or
// "right"; as it is where the reference or the print that is worked on stands there.
func (a *App) StateAt(side string) session.State {
	held := a.View.Held(&a.State)[0]
	if side == "right" {
		held = a.View.Held(&a.State)[1]
	}
	if held != nil {
		if as, err := a.With(held); err == nil { // the session's check has seen that it can be shown
			return as
		}
	}
	return a.State
}

// HoldBefore holds the print as it was before the last change of it, and stands it at the left of
// the print as it is now.
type HoldBefore struct{}

func (HoldBefore) do(a *App, _ string) error {
	was, ok, err := a.History.Before()
	if err != nil {
		return err
	}
	if !ok {
		return fmt.Errorf("the print was not changed yet, so there is none before")
	}
	if err := a.History.Do(command.HoldEarlier{Was: was, Text: "Before"}, ""); err != nil {
		return err
	}
	for _, c := range []view.PutSide{{Which: "right", ID: view.SidePrint}, {Which: "left", ID: view.HeldSide(a.Held[len(a.Held)-1].N)}} {
		if err := a.View.Do(c, a.subject()); err != nil {
			return err
		}
	}
	if !a.View.Compares() {
		if err := a.View.Do(view.TakeLook{ID: "beside"}, a.subject()); err != nil {
			return err
		}
	}
	return a.update()
}

package app

import (
	"fmt"

	"threeply/proof/command"
	"threeply/wasm/page/view"
)

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

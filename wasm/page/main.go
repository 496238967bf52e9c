//go:build js

// Command page is the program of Threeply's page: it holds the session, draws
// the pictures on an Ebitengine canvas and answers the page's controls. Work
// longer than a frame is done by command worker.
package main

import (
	"errors"
	"syscall/js"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
)

func main() {
	breathe()
	a, err := newApp()
	breathe()
	if err == nil {
		err = a.recompute()
	}
	if err != nil {
		js.Global().Get("threeplyPage").Call("failed", err.Error())
		return
	}
	breathe()
	offer(a)
	breathe()
	ebiten.SetVsyncEnabled(true)
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum) // draw on demand: software WebGL makes few frames a second
	ebiten.SetRunnableOnUnfocused(true)
	options := &ebiten.RunGameOptions{InitUnfocused: true}
	if js.Global().Call("matchMedia", "(color-gamut: p3)").Get("matches").Bool() {
		options.ColorSpace, a.screen.wide = ebiten.ColorSpaceDisplayP3, true
	}
	err = ebiten.RunGameWithOptions(a, options)
	if err != nil && !errors.Is(err, ebiten.Termination) {
		js.Global().Get("threeplyPage").Call("failed", err.Error())
	}
}

// breathe gives the page's thread back for a moment: starting is several tasks,
// none of which should hold the page up alone.
func breathe() { time.Sleep(time.Millisecond) }

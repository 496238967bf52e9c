//go:build js

// Command page is the program of Threeply's page: it holds the session, draws the
// pictures on an Ebitengine canvas and answers the page's controls. Work longer than a
// frame is done by command worker.
package main

import (
	"errors"
	"syscall/js"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/spectrum"
	"threeply/wasm/page/app"
	"threeply/wasm/page/breath"
	"threeply/wasm/page/bridge"
	"threeply/wasm/page/screen"
)

func main() {
	if err := run(); err != nil && !errors.Is(err, ebiten.Termination) {
		bridge.Failed(err)
	}
}

func run() error {
	breath.Take()
	canvas := bridge.PlainCanvas()
	if !canvas.IsNull() {
		return runPlain(canvas)
	}
	wide := js.Global().Call("matchMedia", "(color-gamut: p3)").Get("matches").Bool()
	s, err := screen.New(wide)
	if err != nil {
		return err
	}
	breath.Take()
	a, err := app.New(breath.Take)
	if err != nil {
		return err
	}
	breath.Take()
	options := &ebiten.RunGameOptions{InitUnfocused: true}
	if wide {
		options.ColorSpace = ebiten.ColorSpaceDisplayP3
		a.Prints.SetSpace(spectrum.DisplayP3)
	}
	bridge.Offer(a, s)
	breath.Take()
	ebiten.SetVsyncEnabled(true)
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum) // draw on demand: software WebGL makes few frames a second
	ebiten.SetScreenClearedEveryFrame(false)         // a frame paints only what changed
	ebiten.SetRunnableOnUnfocused(true)
	return ebiten.RunGameWithOptions(s, options)
}

// runPlain runs the page where the browser has no WebGL 2.
func runPlain(canvas js.Value) error {
	a, err := app.New(breath.Take)
	if err != nil {
		return err
	}
	bridge.Offer(a, screen.NewPlain(canvas))
	select {}
}

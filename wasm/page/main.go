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
	_ "threeply/wasm/page/breath/midway"
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
	a := app.New()
	start := bridge.Offer(a)
	breath.Take()
	canvas := bridge.PlainCanvas()
	if !canvas.IsNull() {
		return runPlain(a, canvas, start)
	}
	wide := js.Global().Call("matchMedia", "(color-gamut: p3)").Get("matches").Bool()
	s, err := screen.New(wide)
	if err != nil {
		return err
	}
	breath.Take()
	if err := a.Prepare(breath.Take); err != nil {
		return err
	}
	breath.Take()
	options := &ebiten.RunGameOptions{InitUnfocused: true}
	if wide {
		options.ColorSpace = ebiten.ColorSpaceDisplayP3
		a.Prints.SetSpace(spectrum.DisplayP3)
	}
	start(s)
	breath.Take()
	ebiten.SetVsyncEnabled(true)
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum) // draw on demand: software WebGL makes few frames a second
	ebiten.SetScreenClearedEveryFrame(false)         // a frame paints only what changed
	ebiten.SetRunnableOnUnfocused(true)
	return ebiten.RunGameWithOptions(s, options)
}

// runPlain runs the page where the browser has no WebGL 2.
func runPlain(a *app.App, canvas js.Value, start func(*screen.Screen)) error {
	if err := a.Prepare(breath.Take); err != nil {
		return err
	}
	start(screen.NewPlain(canvas))
	select {}
}

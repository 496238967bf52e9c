//go:build js

// Command page is the program of Threeply's page: it holds the session, draws
// the pictures on an Ebitengine canvas and answers the page's controls. Work
// longer than a frame is done by command worker.
package main

import (
	"errors"
	"syscall/js"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/wasm/page/breath"
)

func main() {
	breath.Take()
	a, err := newApp()
	breath.Take()
	if err == nil {
		err = a.recompute()
	}
	if err != nil {
		js.Global().Get("threeplyPage").Call("failed", err.Error())
		return
	}
	breath.Take()
	offer(a)
	breath.Take()
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

//go:build js

// Package breath lets the page's thread go while the program starts.
//
// Go initializes packages in the order of their import paths as far as their
// imports allow. Ebitengine's compile shaders of its own in an init, which takes
// longer than all the rest; they wait for text/template and that for unique, which
// comes after whatever of this module is ready. So the pause in this package's
// init, ready after session, parts the start in two.
package breath

import (
	"syscall/js"

	_ "threeply/proof/session"
)

func init() { Take() }

// Take gives the page's thread back until its next task: starting is several
// tasks, none of which should hold the page up alone. A short sleep would not do:
// Go may wake from it without having gone.
func Take() {
	taken := make(chan struct{})
	wake := js.FuncOf(func(js.Value, []js.Value) any { close(taken); return nil })
	defer wake.Release()
	js.Global().Call("setTimeout", wake, 0)
	<-taken
}

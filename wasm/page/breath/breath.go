//go:build js

// Package breath lets the page's thread go while the program starts.
//
// Go initializes packages in the order of their import paths as far as their
// imports allow. Ebitengine's begin by compiling shaders of its own, which takes
// longer than all the rest; they wait for text/template, which comes after this
// package. So the pause in this package's init parts the start in two.
package breath

import "syscall/js"

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

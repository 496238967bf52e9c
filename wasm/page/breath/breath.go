//go:build js

// Package breath lets the page's thread go while the program starts.
//
// It does so first as Go initializes it. Go initializes packages in the order of their import paths
// as far as their imports allow. This one needs next to nothing, so it comes before the large tables
// of packages unicode and compress/flate. Package midway does so once more.
package breath

import "syscall/js"

func init() { Take() }

// Take gives the page's thread back until its next task: starting is several
// tasks, none of which should hold the page up alone. A short sleep would not do:
// Go may wake from it without having gone. A timer that a timer sets comes 4 ms later:
// the workers, which open the plates meanwhile, have use for that time.
func Take() {
	taken := make(chan struct{})
	wake := js.FuncOf(func(js.Value, []js.Value) any { close(taken); return nil })
	defer wake.Release()
	js.Global().Call("setTimeout", wake, 0)
	<-taken
}

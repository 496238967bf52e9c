//go:build js

package main

import (
	"encoding/hex"
	"syscall/js"
)

// mostHashed is the size of a file that the browser hashes: it has the whole of it in memory.
const mostHashed = 64 << 20

// hasher has the browser compute a file's SHA-256, as plate.File says; nil where it cannot, as on a
// page that came over an open line, or may not.
func hasher(file js.Value) func() func() string {
	if js.Global().Get("crypto").Get("subtle").IsUndefined() || file.Get("size").Float() > mostHashed {
		return nil
	}
	return func() func() string {
		heard := make(chan string, 1)
		var hear js.Func
		hear = js.FuncOf(func(_ js.Value, args []js.Value) any {
			hear.Release()
			var sum []byte
			if !args[0].IsNull() {
				sum = make([]byte, 32)
				js.CopyBytesToGo(sum, args[0])
			}
			heard <- hex.EncodeToString(sum)
			return nil
		})
		js.Global().Call("threeplyHash", file, hear)
		return func() string { return <-heard }
	}
}

//go:build js

package bridge

import (
	"encoding/json"
	"syscall/js"
	"unsafe"

	"threeply/proof/plane"
)

func text(v any) string {
	out, err := json.Marshal(v)
	if err != nil {
		return answer(err)
	}
	return string(out)
}

func answer(err error) string {
	if err != nil {
		return text(map[string]string{"error": err.Error()})
	}
	return `{"ok":true}`
}

// toJS copies bytes into an Uint8Array.
func toJS(b []byte) js.Value {
	out := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(out, b)
	return out
}

// bytesOf views a plane's codes as bytes, in the machine's order: wasm is little-endian,
// as every typed array of the page is.
func bytesOf(pix []uint16) []byte {
	return unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(pix))), 2*len(pix))
}

// planeToJS is a plane as the workers take it.
func planeToJS(p *plane.Plane) map[string]any {
	return map[string]any{"w": p.W, "h": p.H, "bytes": toJS(bytesOf(p.Pix))}
}

// floatsToJS copies numbers into a Float32Array.
func floatsToJS(v []float32) js.Value {
	b := unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(v))), 4*len(v))
	return js.Global().Get("Float32Array").New(toJS(b).Get("buffer"))
}

// listToJS is a list of numbers.
func listToJS(v []float64) []any {
	out := make([]any, len(v))
	for i, x := range v {
		out[i] = x
	}
	return out
}

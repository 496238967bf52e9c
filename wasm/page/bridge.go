//go:build js

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"path"
	"runtime/debug"
	"syscall/js"
	"unsafe"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/command"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/proof/words"
)

// offer puts the program's functions at window.threeply and tells the page.
// Each takes and gives plain values; none blocks.
func offer(a *app) {
	o := js.Global().Get("Object").New()
	set := func(name string, f func(args []js.Value) any) {
		o.Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any { return f(args) }))
	}
	set("do", func(args []js.Value) any {
		err := a.do([]byte(args[0].String()))
		if err != nil {
			a.say("error", a.sentence(err))
		}
		a.changed()
		return answer(err)
	})
	set("view", func([]js.Value) any { return text(a.model()) })
	set("stage", func(args []js.Value) any {
		a.stage(args[0].Float(), args[1].Float(), args[2].Float())
		a.changed()
		return nil
	})
	set("arrive", func(args []js.Value) any { return a.jsArrive(args) })
	set("forget", func([]js.Value) any { return a.jsForget() })
	set("open", func(args []js.Value) any { return a.jsOpen(args) })
	set("restore", func(args []js.Value) any { return a.jsRestore(args) })
	set("registered", func(args []js.Value) any { return a.jsRegistered(args[0].String(), len(args) > 1 && args[1].Truthy()) })
	set("busy", func(args []js.Value) any {
		a.busy = nil
		if len(args) > 0 && args[0].Truthy() {
			a.busy = &busy{args[0].String(), args[1].Float(), args[2].Bool()}
		}
		a.changed()
		return nil
	})
	set("say", func(args []js.Value) any { a.say(args[0].String(), args[1].String()); a.changed(); return nil })
	set("fill", func([]js.Value) any {
		more := a.fillBoard()
		if more {
			a.changed()
		}
		return more
	})
	set("plane", func(args []js.Value) any { return a.jsPlane(args[0].Int(), args[1].Int(), args[2].Int()) })
	set("small", func([]js.Value) any { return a.jsSmall() })
	set("thumb", func(args []js.Value) any { return a.jsThumb(args[0].Int()) })
	set("section", func(args []js.Value) any { return a.jsSection(args[0].Int()) })
	set("sessionText", func([]js.Value) any {
		out, _ := session.Write(a.State)
		return string(out)
	})
	set("matricesCSV", func([]js.Value) any { return toJS([]byte(verdict.MatricesCSV(&a.State))) })
	set("verdictCSV", func([]js.Value) any { return toJS([]byte(verdict.CSV(&a.State))) })
	set("keyAt", func(args []js.Value) any {
		x, y := a.keyAt(args[0].Float(), args[1].Float())
		w, h := a.Frame()
		return js.ValueOf([]any{x / float64(max(w-1, 1)), y / float64(max(h-1, 1))})
	})
	offerOwn(a, set)
	set("seek", func([]js.Value) any { return a.jsSeek() })
	set("found", func(args []js.Value) any { return a.jsFound(args) })
	set("compare", func([]js.Value) any { return a.jsCompare() })
	js.Global().Set("threeply", o)
	js.Global().Get("threeplyPage").Call("started")
}

// changed draws a frame and lets the page read the model.
func (a *app) changed() {
	ebiten.ScheduleFrame()
	js.Global().Get("threeplyPage").Call("changed")
}

// drawn tells the page that a frame with plates stands.
func (a *app) drawn() { js.Global().Get("threeplyPage").Call("drawn") }

func text(v any) string {
	out, err := json.Marshal(v)
	if err != nil {
		return text(map[string]string{"error": err.Error()})
	}
	return string(out)
}

func answer(err error) string {
	if err != nil {
		return text(map[string]string{"error": err.Error()})
	}
	return `{"ok":true}`
}

// sentence is an error as the page says it. files are names it may begin with
// beside those of the open scans.
func (a *app) sentence(err error, files ...string) string {
	return words.Sentence(err.Error(), append(files, a.Files()...))
}

// bytesOf views a plane's codes as bytes, in the machine's order: wasm is
// little-endian, as every typed array of the page is.
func bytesOf(pix []uint16) []byte {
	return unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(pix))), 2*len(pix))
}

// jsArrive takes a part of a plate: its source, level of the pyramid, that
// level's width and height, the byte at which the part begins, and the part.
// Parts come in order; where one does not fit, open finds the plate missing.
func (a *app) jsArrive(args []js.Value) any {
	i, l, w, h, at := args[0].Int(), args[1].Int(), args[2].Int(), args[3].Int(), args[4].Int()
	if at == 0 && l <= len(a.arrived[i]) && w > 0 && h > 0 {
		a.arrived[i] = append(a.arrived[i][:l], plane.New(w, h))
		a.limitMemory()
	}
	if l >= len(a.arrived[i]) || at+args[5].Length() > 2*len(a.arrived[i][l].Pix) {
		a.arrived[i] = nil
		return nil
	}
	js.CopyBytesToGo(bytesOf(a.arrived[i][l].Pix)[at:], args[5])
	return nil
}

// jsForget lets go of plates that arrived and are not wanted.
func (a *app) jsForget() any {
	a.arrived = [3][]*plane.Plane{}
	a.limitMemory()
	return nil
}

// limitMemory has the collector work harder where more than a margin beside the
// plates is taken: large plates would else let as much again pile up.
func (a *app) limitMemory() {
	const margin = 256 << 20
	n := 0
	for i := range a.plates {
		n += bytesIn(a.plates[i]) + bytesIn(a.arrived[i])
	}
	debug.SetMemoryLimit(int64(n + margin))
}

func bytesIn(levels []*plane.Plane) int {
	n := 0
	for _, p := range levels {
		n += 2 * len(p.Pix)
	}
	return n
}

// jsOpen takes a session's text for the plates that have arrived, whether the
// names left the plates open, and whether to keep the settings before.
func (a *app) jsOpen(args []js.Value) any {
	s, err := session.Read(args[0].String(), []byte(args[1].String()))
	if err == nil {
		err = a.open(s, args[3].Bool())
	}
	if err == nil {
		a.asked = args[2].Bool()
		a.limitMemory()
	} else {
		a.say("error", a.sentence(err, s.Files()...))
	}
	a.changed()
	return answer(err)
}

// jsRestore takes the settings of a saved session for the plates that are
// open; a session of other plates is refused. One that the browser kept is where
// the work goes on: there is nothing before it to go back to.
func (a *app) jsRestore(args []js.Value) any {
	name := args[0].String()
	var names []string // of the file, where it is one and not the session that the browser kept
	if path.Ext(name) != "" {
		names = append(names, name)
	}
	s, err := session.Read(name, []byte(args[1].String()))
	if err == nil {
		if !a.has() {
			err = fmt.Errorf("%s: open the plates of the session first, then the session", name)
		}
	}
	if err == nil {
		for i := range s.Sources {
			if s.Sources[i].File != a.Sources[i].File || s.Sources[i].W != a.Sources[i].W || s.Sources[i].H != a.Sources[i].H {
				err = fmt.Errorf("%s: it belongs to other plates (%s, not %s); open those first", name, s.Sources[i].File, a.Sources[i].File)
			}
		}
	}
	if err == nil {
		if kept := len(args) > 2 && args[2].Truthy(); kept {
			a.History = command.NewHistory(s)
		} else {
			a.Replace(s, "opened session")
		}
		a.asked = false
		err = a.recompute()
		a.refit()
	}
	if err != nil {
		a.say("error", a.sentence(err, names...))
	}
	a.changed()
	return answer(err)
}

// jsPlane copies bytes from … to of a source's plane out, to be handed to a
// worker.
func (a *app) jsPlane(i, from, to int) any {
	if !a.has() {
		return nil
	}
	b := bytesOf(a.plates[i][0].Pix)
	b = b[min(from, len(b)):min(to, len(b))]
	return toJS(b)
}

// toJS copies bytes. A text that begins with a byte-order mark goes this way
// too: as a string it would lose it.
func toJS(b []byte) js.Value {
	out := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(out, b)
	return out
}

// jsThumb gives the smallest level of a source, as grey on a canvas: as light
// as the scan is.
func (a *app) jsThumb(i int) any {
	if !a.has() || i < 0 || i > 2 {
		return nil
	}
	levels := a.plates[i]
	p := levels[len(levels)-1]
	px := make([]byte, 4*len(p.Pix))
	for j, code := range p.Pix {
		v := byte(math.Round(255 * math.Pow(10, -float64(code)*4/65535/2.2)))
		px[4*j], px[4*j+1], px[4*j+2], px[4*j+3] = v, v, v, 255
	}
	out := js.Global().Get("Uint8ClampedArray").New(len(px))
	js.CopyBytesToJS(out, px)
	return js.ValueOf(map[string]any{"w": p.W, "h": p.H, "rgba": out})
}

func floats(v []float32) js.Value {
	b := unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(v))), 4*len(v))
	return js.Global().Get("Float32Array").New(toJS(b).Get("buffer"))
}

func (a *app) jsSection(n int) any {
	s := a.cut(min(max(n, 2), 4000))
	um, swatches := map[string]any{}, map[string]any{"paper": swatch(a.printing, a.printing.Recipe, -1)}
	for i := range pigment.Printer(3) {
		um[i.String()] = floats(s.um[i])
		swatches[i.String()] = swatch(a.printing, a.printing.Recipe, int(i))
	}
	return js.ValueOf(map[string]any{"n": len(s.um[0]), "um": um, "order": a.Order, "maxUm": s.maxUm, "swatch": swatches, "lengthMm": s.long})
}

// jsCompare gives a promise of how far the shader's picture lies from the Go
// renderer's, over the panes as they stand.
func (a *app) jsCompare() any {
	return js.Global().Get("Promise").New(js.FuncOf(func(_ js.Value, args []js.Value) any {
		resolve, reject := args[0], args[1]
		if !a.has() || a.compare != nil {
			reject.Invoke("no plates are open, or a comparison is under way")
			return nil
		}
		wanted := make(chan comparison, 1)
		a.compare = wanted
		ebiten.ScheduleFrame()
		go func() { resolve.Invoke(text(<-wanted)) }()
		return nil
	}))
}

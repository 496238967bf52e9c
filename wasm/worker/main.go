//go:build js

// Command worker does the page's long work in a Web Worker: it opens scans,
// registers plates, renders proofs at full size and writes profiles, sheets and sessions. It keeps nothing between
// calls; the page cancels a call by ending the worker.
package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"syscall/js"
	"time"
)

func main() {
	debug.SetGCPercent(25) // the memory never shrinks, and most of it holds no pointers
	js.Global().Set("threeplyWork", js.FuncOf(func(_ js.Value, args []js.Value) any {
		message := args[0]
		if message.Get("part").Truthy() {
			arrive(message)
			return nil
		}
		if back := message.Get("spent"); back.Truthy() {
			spent <- back
			return nil
		}
		if turn := message.Get("turn"); turn.Truthy() {
			id := message.Get("id").Int()
			turns[id] <- turn
			delete(turns, id)
			return nil
		}
		go work(message)
		return nil
	}))
	js.Global().Call("postMessage", map[string]any{"ready": true})
	select {}
}

// work answers one message {id, op, …} with {id, result} or {id, error}, both
// with the bytes of memory that the program now takes, and {id, share, what} on
// the way.
func work(message js.Value) {
	id := message.Get("id")
	end := func(key string, value any, transfer ...any) {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		post(map[string]any{"id": id, key: value, "memory": float64(m.Sys)}, transfer...)
	}
	defer func() {
		if r := recover(); r != nil {
			end("error", fmt.Sprintf("Threeply broke down over this (%v). Nothing that was open is lost; please report it with the file.", r))
		}
	}()
	ops := map[string]func(js.Value, func(float64, string)) (any, []any, error){
		"open": open, "openOne": openOne, "register": register, "look": look, "registerOne": registerOne, "proof": proof, "icc": profile, "tiff": tiff,
		"figures": figures, "board": board, "masks": masks, "ways": ways, "thirds": thirds, "sureness": sureness, "locate": locate, "paper": paper,
		"negative": negative, "testsheet": testSheet, "fit": fitReadings, "flatbed": flatbedPreview, "film": filmWedge, "process": processSheet, "levels": findLevels, "audit": auditOf, "review": reviewSheet, "report": registerReport, "together": together, "text": text, "pack": pack, "bag": bagOf, "catalogue": catalogueOf, "unpack": unpack,
	}
	op, ok := ops[message.Get("op").String()]
	if !ok {
		end("error", "no such work: "+message.Get("op").String())
		return
	}
	result, transfer, err := op(message, progressTo(id))
	if err != nil {
		end("error", err.Error())
		return
	}
	end("result", result, transfer...)
}

func post(m map[string]any, transfer ...any) {
	js.Global().Call("postMessage", m, transfer)
}

// progressTo reports at most three times a second, for each report has the page write its
// controls anew. Ten times a second it gives the thread back for a moment: there the
// browser ends a worker at once, and elsewhere only after seconds.
func progressTo(id js.Value) func(float64, string) {
	var last, told time.Time
	return func(share float64, what string) {
		if now := time.Now(); now.Sub(last) > 100*time.Millisecond {
			last = now
			if now.Sub(told) > 300*time.Millisecond {
				told = now
				post(map[string]any{"id": id, "share": share, "what": what})
			}
			time.Sleep(time.Millisecond)
			time.Sleep(time.Millisecond)
		}
	}
}

func bytesTo(b []byte) js.Value {
	v := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(v, b)
	return v
}

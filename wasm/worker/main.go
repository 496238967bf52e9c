//go:build js

// Command worker does the page's long work in a Web Worker: it opens scans,
// registers plates, renders proofs at full size and writes profiles, sheets and sessions. It keeps nothing between
// calls; the page cancels a call by ending the worker.
package main

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime"
	"runtime/debug"
	"syscall/js"
	"time"

	"threeply/proof/plane"
	of "threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
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

// The pixels of three plates that two workers open or register side by side: fewer are done
// before a second worker has begun, and of more the memory is too much, for each holds a plate,
// and the key where it registers.
const leastTogether, mostTogether = 3 * 8_000_000, 3 * 40_000_000

// register: session, and refine, the source that is measured again from where
// it lies, where only that is wanted; look, where the picture is looked at too; together, where
// another worker may register a plate meanwhile, which is asked for as {id, turn: {register}} →
// what was found and what is left, as text.
func register(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	one := m.Get("refine")
	var other func(int) (of.Plate, bool)
	pixels := 0
	for _, src := range s.Sources {
		pixels += src.W * src.H
	}
	if m.Get("together").Truthy() && one.Type() != js.TypeNumber && leastTogether <= pixels && pixels <= mostTogether {
		other = elsewhere[of.Plate](m, "register", (s.KeySource()+1)%3)
	}
	ctx, fail := context.WithCancelCause(context.Background())
	defer fail(nil)
	planes, err := pyramids(m, &s, fail)
	if err != nil {
		return nil, nil, err
	}
	var found registration.Registration
	if one.Type() == js.TypeNumber {
		found, err = registration.Refine(ctx, &s, planes, one.Int(), progress)
	} else {
		found, err = registration.Together(ctx, &s, planes, of.Others{Elsewhere: other}, progress)
		if err == nil && m.Get("look").Truthy() {
			lies := found.On(&s)
			found.Seen = registration.Look(&lies, planes)
		}
	}
	if why := context.Cause(ctx); why != nil {
		err = why
	}
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(found)
	return string(text), nil, err
}

// look: session, of plates in register → what is seen of them, a registration.Seen as text.
func look(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	ctx, fail := context.WithCancelCause(context.Background())
	defer fail(nil)
	planes, err := pyramids(m, &s, fail)
	if err != nil {
		return nil, nil, err
	}
	seen := registration.Look(&s, planes)
	if why := context.Cause(ctx); why != nil {
		return nil, nil, why
	}
	text, err := json.Marshal(seen)
	return string(text), nil, err
}

// pyramids are a session's plates, by source, had from the page as they are read; see pyramidOf.
func pyramids(m js.Value, s *session.State, fail context.CancelCauseFunc) (planes [3]*plane.Plane, err error) {
	for i, src := range s.Sources {
		if planes[i], err = pyramidOf(m.Get("id"), i, src.W, src.H, fail); err != nil {
			return planes, err
		}
	}
	return planes, nil
}

// elsewhere has another worker do something of a source, asked for as {id, turn: {what:
// source}}, and gives what waits for what it finds.
func elsewhere[Found any](m js.Value, what string, source int) func(int) (Found, bool) {
	answer := beginAsking(m.Get("id"), map[string]any{what: source})
	return func(i int) (found Found, ok bool) {
		if i != source {
			return found, false
		}
		text := (<-answer).Get("found")
		return found, text.Type() == js.TypeString && json.Unmarshal([]byte(text.String()), &found) == nil
	}
}

// registerOne: session, source → what was found of that plate, as text.
func registerOne(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	source := m.Get("source").Int()
	ctx, fail := context.WithCancelCause(context.Background())
	defer fail(nil)
	planes := unread(&s)
	for _, i := range [2]int{s.KeySource(), source} {
		if planes[i], err = pyramidOf(m.Get("id"), i, planes[i].W, planes[i].H, fail); err != nil {
			return nil, nil, err
		}
	}
	found, err := registration.One(ctx, &s, planes, source, nil, func(float64) {})
	if why := context.Cause(ctx); why != nil {
		err = why
	}
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(found)
	return string(text), nil, err
}

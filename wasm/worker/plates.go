//go:build js

package main

import (
	"fmt"
	"syscall/js"
	"unsafe"

	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/session"
)

// partBytes is how much of a plate passes from the page to the worker at a time, and takeBytes how
// much the other way: little enough for the page to stay live meanwhile. What it takes goes to memory
// that was never written to, which takes many times as long.
const (
	partBytes = 8 << 20
	takeBytes = 2 << 20
)

func bytesOf(pix []uint16) []byte {
	return unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(pix))), 2*len(pix))
}

// handOver posts a source's plane and the levels of its pyramid, as {id, take:
// {source, level, w, h, at, bytes}}, at being the byte at which a part begins.
func handOver(id js.Value, source int, p *plane.Plane) {
	for l := 0; ; l++ {
		b := bytesOf(p.Pix)
		for at := 0; at < len(b); at += takeBytes {
			part := filled(b[at:min(at+takeBytes, len(b))])
			post(map[string]any{"id": id, "take": map[string]any{
				"source": source, "level": l, "w": p.W, "h": p.H, "at": at, "bytes": part,
			}}, part.Get("buffer"))
		}
		if max(p.W, p.H) <= picture.ThumbSide {
			return
		}
		p = p.Half()
	}
}

// spent are bytes that the page has sent back, and underWay is how many it has. A call that
// hands planes over is the only one of its worker.
var (
	spent    = make(chan js.Value, mostUnderWay)
	underWay = 0
)

// mostUnderWay is how many parts are on their way to the page at a time: what is made ready
// while one is copied there.
const mostUnderWay = 3

// filled are bytes for the page: those that it sends back filled again, for memory that was never
// written to costs many times what the copy does.
func filled(b []byte) js.Value {
	var room js.Value
	if underWay < mostUnderWay {
		room = js.Global().Get("Uint8Array").New(takeBytes)
		underWay++
	} else {
		room = js.Global().Get("Uint8Array").New((<-spent).Get("buffer"))
	}
	js.CopyBytesToJS(room, b)
	return room.Call("subarray", 0, len(b))
}

// awaited are the parts that calls wait for, by the call's id.
var awaited = map[int]*request{}

// request is where a part goes, and who is told its length.
type request struct {
	to   []byte
	come chan int
}

// arrive takes a part that was asked for, {id, part}.
func arrive(m js.Value) {
	if r := awaited[m.Get("id").Int()]; r != nil {
		r.come <- js.CopyBytesToGo(r.to, m.Get("part"))
	}
}

// fetch asks the page for bytes of a level of a source's plane from a byte on, part by part, as
// {id, want: {source, level, from, to}}.
func fetch(id js.Value, source, level, from int, b []byte) error {
	r := &request{come: make(chan int, 1)}
	awaited[id.Int()] = r
	defer delete(awaited, id.Int())
	for at := 0; at < len(b); {
		end := min(at+partBytes, len(b))
		r.to = b[at:end]
		post(map[string]any{"id": id, "want": map[string]any{"source": source, "level": level, "from": from + at, "to": from + end}})
		if n := <-r.come; n != end-at {
			return fmt.Errorf("the plates did not arrive whole (%d bytes of %d); open them again", n, end-at)
		}
		at = end
	}
	return nil
}

// fetchLevel fetches a level of each source's pyramid.
func fetchLevel(m js.Value, s *session.State, level int) (planes [3]*plane.Plane, err error) {
	for i, src := range s.Sources {
		w, h := src.W, src.H
		for range level {
			w, h = (w+1)/2, (h+1)/2
		}
		planes[i] = plane.New(w, h)
		if err := fetch(m.Get("id"), i, level, 0, bytesOf(planes[i].Pix)); err != nil {
			return planes, err
		}
	}
	return planes, nil
}

// set reads a message's session and fetches its planes.
func set(m js.Value) (s session.State, planes [3]*plane.Plane, err error) {
	if s, err = session.Read("the session", []byte(m.Get("session").String())); err == nil {
		planes, err = fetchLevel(m, &s, 0)
	}
	return s, planes, err
}

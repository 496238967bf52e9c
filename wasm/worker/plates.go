//go:build js

package main

import (
	"encoding/binary"
	"fmt"
	"sync"
	"syscall/js"
	"unsafe"

	"threeply/proof/levels"
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

// request is where a part goes, piece by piece, and who is told its length.
type request struct {
	to   [][]byte
	come chan int
}

// arrive takes a part that was asked for, {id, part}.
func arrive(m js.Value) {
	r := awaited[m.Get("id").Int()]
	if r == nil {
		return
	}
	part, n := m.Get("part"), 0
	for _, to := range r.to {
		n += js.CopyBytesToGo(to, part.Call("subarray", n))
	}
	r.come <- n
}

// fetching is held by what fetches: a call asks for one part at a time.
var fetching sync.Mutex

// fetch asks the page for bytes of a level of a source's plane from a byte on, part by part, as
// {id, want: {source, level, from, to}}.
func fetch(id js.Value, source, level, from int, b []byte) error {
	for at := 0; at < len(b); {
		end := min(at+partBytes, len(b))
		if err := fetchPart(id, [][]byte{b[at:end]}, map[string]any{"source": source, "level": level, "from": from + at, "to": from + end}); err != nil {
			return err
		}
		at = end
	}
	return nil
}

// fetchPart asks for one part, and puts it into pieces.
func fetchPart(id js.Value, pieces [][]byte, want map[string]any) error {
	fetching.Lock()
	defer fetching.Unlock()
	r := &request{to: pieces, come: make(chan int, 1)}
	awaited[id.Int()] = r
	defer delete(awaited, id.Int())
	post(map[string]any{"id": id, "want": want})
	all := 0
	for _, b := range pieces {
		all += len(b)
	}
	if n := <-r.come; n != all {
		return fmt.Errorf("the plates did not arrive whole (%d bytes of %d); open them again", n, all)
	}
	return nil
}

// distant is a level of a source's plane, w × h pixels, that lies in the page: its tiles come as {id,
// want: {source, level, from: 0, to, tiles}}, with their numbers in 32 bits each, and some of
// its codes as {id, want: {source, level, from: 0, to, every}}.
type distant struct {
	id                  js.Value
	source, level, w, h int
	fail                func(error) // is told where they do not come
}

const tileBytes = 2 * plane.TileSide * plane.TileSide

func (d distant) Tiles(numbers []int, codes [][]uint16) {
	for len(numbers) > 0 {
		n := min(len(numbers), partBytes/tileBytes)
		list := make([]byte, 0, 4*n)
		pieces := make([][]byte, n)
		for i := range n {
			list = binary.LittleEndian.AppendUint32(list, uint32(numbers[i]))
			pieces[i] = bytesOf(codes[i])
		}
		if err := fetchPart(d.id, pieces, map[string]any{"source": d.source, "level": d.level, "from": 0, "to": n * tileBytes, "tiles": bytesTo(list)}); err != nil {
			d.fail(err)
			return
		}
		numbers, codes = numbers[n:], codes[n:]
	}
}

func (d distant) Every(step int) []uint16 {
	codes := make([]uint16, (d.w*d.h+step-1)/step)
	if err := fetchPart(d.id, [][]byte{bytesOf(codes)}, map[string]any{"source": d.source, "level": d.level, "from": 0, "to": 2 * len(codes), "every": step}); err != nil {
		d.fail(err)
	}
	return codes
}

// pyramidOf is a source's plane, w × h pixels, and the levels that the page has of it, so that none
// of them is made here. Those that are larger than EnoughSide of package levels stay in
// the page: only parts of them are looked at. fail is told where such a part does not come.
func pyramidOf(id js.Value, source, w, h int, fail func(error)) (whole *plane.Plane, err error) {
	var last *plane.Plane
	for l := 0; ; l++ {
		var p *plane.Plane
		if max(w, h) > levels.EnoughSide {
			p = plane.Far(w, h, distant{id, source, l, w, h, fail})
		} else {
			p = plane.New(w, h)
			if err := fetch(id, source, l, 0, bytesOf(p.Pix)); err != nil {
				return nil, err
			}
		}
		if last == nil {
			whole = p
		} else {
			last.Halved(p)
		}
		if max(w, h) <= picture.ThumbSide {
			return whole, nil
		}
		last, w, h = p, (w+1)/2, (h+1)/2
	}
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

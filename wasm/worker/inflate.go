//go:build js

package main

import (
	"io"
	"syscall/js"

	"threeply/proof/scan"
)

// packedBytes is how much of what is packed the browser is given at a time: what it makes of that
// lies in its memory, up to a thousand times as much (RFC 1951).
const packedBytes = 1 << 16

// inflater is the browser's own, or nil where it has none.
func inflater() scan.Inflater {
	if js.Global().Get("DecompressionStream").IsUndefined() {
		return nil
	}
	return func(packed io.Reader) io.ReadCloser {
		r := &inflating{packed: packed, room: make([]byte, packedBytes), heard: make(chan js.Value, 4)}
		r.hear = js.FuncOf(func(_ js.Value, args []js.Value) any {
			r.heard <- args[0]
			return nil
		})
		r.stream = js.Global().Call("threeplyInflate", r.hear)
		return r
	}
}

// inflating is a stream that the browser unpacks. It tells what is heard of it: true once it has
// taken what it was given, false where it fails, bytes that were asked for, or null at the end.
type inflating struct {
	packed        io.Reader
	room          []byte
	stream        js.Value
	hear          js.Func
	heard         chan js.Value
	given, asked  bool // bytes, and not yet taken; for bytes
	ended         bool // all is given
	bytes, unread []byte
}

func (r *inflating) Read(p []byte) (int, error) {
	for len(r.unread) == 0 {
		if !r.given && !r.ended {
			n, err := io.ReadFull(r.packed, r.room)
			if n > 0 {
				r.stream.Call("give", bytesTo(r.room[:n]))
				r.given = true
			}
			if r.ended = err != nil; r.ended {
				r.stream.Call("end") // cut short where a read failed: it fails then
			}
		}
		if !r.asked {
			r.stream.Call("ask")
			r.asked = true
		}
		switch v := <-r.heard; {
		case v.IsNull():
			return 0, io.EOF
		case v.Type() != js.TypeBoolean:
			r.asked = false
			if n := v.Length(); cap(r.bytes) < n {
				r.bytes = make([]byte, n)
			}
			r.unread = r.bytes[:js.CopyBytesToGo(r.bytes[:cap(r.bytes)], v)]
		case v.Bool():
			r.given = false
		default:
			return 0, io.ErrUnexpectedEOF // the reader of the file says what it is
		}
	}
	n := copy(p, r.unread)
	r.unread = r.unread[n:]
	return n, nil
}

// Close ends the stream.
func (r *inflating) Close() error {
	r.stream.Call("leave")
	r.hear.Release()
	return nil
}

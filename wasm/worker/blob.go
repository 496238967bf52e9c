//go:build js

package main

import (
	"fmt"
	"io"
	"syscall/js"

	"threeply/proof/scan"
)

// windowBytes is how much of a file is read at a time.
const windowBytes = 4 << 20

// blob is a file that the browser holds, as scan.Data. One window of it lies in
// this program's memory.
type blob struct {
	file   js.Value
	size   int64
	window []byte
	from   int64
}

func blobOf(file js.Value) *blob {
	return &blob{file: file, size: int64(file.Get("size").Float())}
}

// decoded is the scan in a file, as the file says.
func decoded(file js.Value) (*scan.Scan, error) {
	return scan.DecodeFrom(file.Get("name").String(), blobOf(file), scan.Options{Inflate: inflater()})
}

// Size is the file's length in bytes.
func (b *blob) Size() int64 { return b.size }

// ReadAt copies from offset at on, as io.ReaderAt says.
func (b *blob) ReadAt(p []byte, at int64) (int, error) {
	done := 0
	for done < len(p) {
		if at < 0 || at >= b.size {
			return done, io.EOF
		}
		if at < b.from || at >= b.from+int64(len(b.window)) {
			if err := b.load(at); err != nil {
				return done, err
			}
		}
		n := copy(p[done:], b.window[at-b.from:])
		done, at = done+n, at+int64(n)
	}
	return done, nil
}

// load reads the window that begins at an offset. The browser throws where the
// file is gone or was changed.
func (b *blob) load(at int64) (err error) {
	defer func() {
		if r := recover(); r != nil {
			b.window = b.window[:0]
			err = &scan.Error{
				Reason: fmt.Sprintf("the browser cannot read it (%v)", r),
				Remedy: "Check that the file is still there and unchanged, and drop it again.",
			}
		}
	}()
	if b.window == nil {
		b.window = make([]byte, windowBytes)
	}
	n := min(b.size-at, windowBytes)
	b.window, b.from = b.window[:n], at
	js.CopyBytesToGo(b.window, js.Global().Call("threeplyRead", b.file, at, at+n))
	return nil
}

package scan

import (
	"errors"
	"io"
)

// Data is the content of a file, read where it is wanted, so that a large scan
// need not lie in memory whole. ReadAt may return an *Error, which is then told
// to the user under the file's name.
type Data interface {
	io.ReaderAt
	Size() int64 // bytes
}

// Bytes is a file that lies in memory.
type Bytes []byte

// Size is the length of b.
func (b Bytes) Size() int64 { return int64(len(b)) }

// ReadAt copies from offset at on, as io.ReaderAt says.
func (b Bytes) ReadAt(p []byte, at int64) (int, error) {
	if at < 0 || at >= int64(len(b)) {
		return 0, io.EOF
	}
	n := copy(p, b[at:])
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// part reads n bytes from offset at on, all of which lie within the data. What
// is in memory already is not copied.
func part(data Data, at, n int64) ([]byte, *Error) {
	if b, ok := data.(Bytes); ok {
		return b[at : at+n], nil
	}
	p := make([]byte, n)
	if got, err := data.ReadAt(p, at); int64(got) < n {
		return nil, unread(err)
	}
	return p, nil
}

// unread says why a file could not be read.
func unread(err error) *Error {
	if own, ok := errors.AsType[*Error](err); ok {
		return own
	}
	return malformed("it could not be read (%v)", err)
}

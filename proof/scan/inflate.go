package scan

import (
	"io"

	"github.com/klauspost/compress/zlib"
)

// Inflater begins to unpack what is packed by zlib (RFC 1950), faster than this package does. Its
// reader may fail at anything that is not packed so to its end: that is then unpacked here, which
// says what is wrong with it.
type Inflater func(packed io.Reader) io.ReadCloser

// leastInflated is how many unpacked bytes are worth an Inflater.
const leastInflated = 1 << 16

// inflating reads what is packed by zlib, by an Inflater as far as that gets.
type inflating struct {
	packed func() io.Reader // from its start
	fast   io.ReadCloser    // nil once it failed
	slow   io.Reader
	got    int64 // bytes so far
}

// inflate begins to read what is packed.
func (in Inflater) inflate(packed func() io.Reader) *inflating {
	return &inflating{packed: packed, fast: in(packed())}
}

func (r *inflating) Read(p []byte) (int, error) {
	if r.fast != nil {
		n, err := r.fast.Read(p)
		r.got += int64(n)
		switch {
		case err == nil, err == io.EOF:
			return n, err
		case n > 0:
			return n, nil // it fails again
		}
		r.Close()
		if r.slow, err = zlib.NewReader(r.packed()); err == nil {
			_, err = io.CopyN(io.Discard, r.slow, r.got)
		}
		if err != nil {
			return 0, err
		}
	}
	return r.slow.Read(p)
}

// Close ends the Inflater's work.
func (r *inflating) Close() {
	if r.fast != nil {
		r.fast.Close()
	}
	r.fast = nil
}

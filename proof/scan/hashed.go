package scan

import (
	"crypto/sha256"
	"encoding/hex"
	"hash"
)

// Hashed is a file whose SHA-256 is computed while it is read: what is read in order
// is hashed on the way, so that a large scan need not be read a second time. It is not
// for use by several goroutines at once.
type Hashed struct {
	data   Data
	hash   hash.Hash
	hashed int64 // bytes from the beginning on
}

// NewHashed begins to hash a file.
func NewHashed(data Data) *Hashed { return &Hashed{data: data, hash: sha256.New()} }

// Size is the file's length in bytes.
func (h *Hashed) Size() int64 { return h.data.Size() }

// mostSkipped is how much a decoder may leave out between two reads, such as what pads
// the strips of a TIFF, for the bytes to be hashed on the way all the same: so much is
// read at once anyway.
const mostSkipped = 64 << 10

// ReadAt copies from offset at on, as io.ReaderAt says.
func (h *Hashed) ReadAt(p []byte, at int64) (int, error) {
	if gap := at - h.hashed; gap > 0 && gap <= mostSkipped {
		skipped := make([]byte, gap)
		if n, _ := h.data.ReadAt(skipped, h.hashed); int64(n) == gap { // else Sum says why
			h.take(skipped)
		}
	}
	n, err := h.data.ReadAt(p, at)
	if from := h.hashed - at; from >= 0 && from < int64(n) {
		h.take(p[from:n])
	}
	return n, err
}

func (h *Hashed) take(p []byte) {
	h.hash.Write(p)
	h.hashed += int64(len(p))
}

// Sum returns the SHA-256 of the whole file in small hexadecimal digits. It reads what
// was not read in order; progress, which may be nil, is told the share of the file that
// is hashed. An error is an *Error without the file's name.
func (h *Hashed) Sum(progress func(share float64)) (string, error) {
	const piece = 1 << 20
	size := h.Size()
	p := make([]byte, min(piece, max(size-h.hashed, 0)))
	for h.hashed < size {
		n, err := h.data.ReadAt(p[:min(piece, size-h.hashed)], h.hashed)
		if n == 0 {
			if err == nil {
				err = malformed("it ended after %d of %d bytes", h.hashed, size)
			}
			return "", unread(err)
		}
		h.take(p[:n])
		if progress != nil {
			progress(float64(h.hashed) / float64(size))
		}
	}
	return hex.EncodeToString(h.hash.Sum(nil)), nil
}

package scan

import (
	"bytes"
	"io"
	"runtime"
	"sync"

	"threeply/proof/plane"
)

// mostAtOnce is the length of a packed strip or tile up to which several are unpacked at once:
// so many lie in memory then.
const mostAtOnce = 4 << 20

// readPieces reads all pieces of a picture, or of one sample of it, from number first on; see
// pieceReader.piece. Packed ones are read in order and unpacked by all processors.
func (t *tiffPicture) readPieces(picture []*plane.Plane, first, s int, to []*plane.Plane) *Error {
	n, end := first, first+t.piecesAcross()*t.piecesDown()
	last := end - 2 // where the last row is cut short, its reader must have read the row above
	if readers := min(runtime.GOMAXPROCS(0), last-first); readers > 1 && t.unpacksAtOnce(first, end) {
		if refusal := t.readAtOnce(readers, picture, first, last, s, to); refusal != nil {
			return refusal
		}
		n = last
	}
	r := t.newPieceReader(picture)
	for ; n < end; n++ {
		if refusal := r.piece(n, t.stored(n), s, to); refusal != nil {
			return refusal
		}
	}
	t.counts.add(r.counts)
	return nil
}

// unpacksAtOnce tells whether pieces are to be unpacked by several processors. What is not
// packed is read as fast as memory is; a JPEG is unpacked whole, which takes memory.
func (t *tiffPicture) unpacksAtOnce(first, end int) bool {
	if t.compression == compressionNone || t.compression == compressionJPEG {
		return false
	}
	for n := first; n < end; n++ {
		if _, length := t.lies(n); length > mostAtOnce {
			return false
		}
	}
	return true
}

// readAtOnce is readPieces by several readers. Of pieces that are damaged the first is told,
// as by a single reader.
func (t *tiffPicture) readAtOnce(readers int, picture []*plane.Plane, first, end, s int, to []*plane.Plane) *Error {
	type packed struct {
		n      int
		stored []byte
	}
	var (
		pieces  = make(chan packed)
		rooms   = make(chan []byte, readers+1) // for what is packed
		stop    = make(chan struct{})
		mu      sync.Mutex
		worst   = end // the first piece that is damaged
		refusal *Error
		all     sync.WaitGroup
	)
	refuse := func(n int, why *Error) {
		mu.Lock()
		defer mu.Unlock()
		if refusal == nil {
			close(stop)
		}
		if n < worst {
			worst, refusal = n, why
		}
	}
	for range readers {
		all.Go(func() {
			r := t.newPieceReader(picture)
			for p := range pieces {
				if _, why := guard(func() (_ struct{}, err error) {
					if why := r.piece(p.n, bytes.NewReader(p.stored), s, to); why != nil {
						return struct{}{}, why
					}
					return struct{}{}, nil
				}); why != nil {
					refuse(p.n, why)
				}
				rooms <- p.stored
			}
			mu.Lock()
			defer mu.Unlock()
			t.counts.add(r.counts)
		})
	}
	for range readers + 1 {
		rooms <- nil
	}
	for n := first; n < end; n++ {
		room := <-rooms
		_, length := t.lies(n)
		if cap(room) < length {
			room = make([]byte, length)
		}
		got, err := io.ReadFull(t.stored(n), room[:length])
		if err != nil && err != io.ErrUnexpectedEOF && err != io.EOF { // what is missing at the file's end may be forgiven
			refuse(n, fromLibrary(err))
			break
		}
		select {
		case <-stop:
			n = end
		case pieces <- packed{n, room[:got]}:
		}
	}
	close(pieces)
	all.Wait()
	return refusal
}

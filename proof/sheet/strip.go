package sheet

import (
	"compress/flate"
	"encoding/binary"
	"errors"
	"hash/adler32"
	"io"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// Strips is a picture as a file, in strips of whole rows. They may be drawn and packed in
// any order, several at a time, even by programs apart: the file has the same bytes.
type Strips interface {
	// Size is that of the picture in pixels.
	Size() (w, h int)
	// Strips is how many there are.
	Strips() int
	// Rows are those of strip i, from … to-1.
	Rows(i int) (from, to int)
	// Pack draws strip i and appends it to a slice as it stands in the file, and gives
	// the check sum that Join asks for.
	Pack(to []byte, i int) ([]byte, uint32, error)
	// Join gives what stands in the file before the strips and after them. It fails
	// where the format cannot hold so much.
	Join(packed []Packed) (before, after []byte, err error)
}

// Packed is what Join has to know of a packed strip.
type Packed struct {
	Size int // bytes
	Sum  uint32
}

// stripBytes is what a strip holds about before it is packed: large enough for Deflate's
// window of 32 kB, small enough for readers that take one strip at a time.
const stripBytes = 1 << 18

// bandPixels is about how many pixels are drawn by one program while others draw others: many
// enough that what is read for a band twice, where plates are turned, costs little; few enough
// that none waits long for the last.
const bandPixels = 2 << 20

// Bands are runs of strips, from … to-1, each a fair piece of work for one of several
// programs.
func Bands(s Strips) [][2]int {
	w, _ := s.Size()
	_, rows := s.Rows(0)
	each := max(bandPixels/(w*rows), 1)
	var out [][2]int
	for i := 0; i < s.Strips(); i += each {
		out = append(out, [2]int{i, min(i+each, s.Strips())})
	}
	return out
}

// atOnce is how many strips are drawn before they are written, where they can be.
const atOnce = 32

// stream writes a file whose beginning is known before its strips are packed: a few of them
// at a time, on all processors. progress may be nil.
func stream(out io.Writer, s Strips, before []byte, progress func(share float64)) error {
	if _, err := out.Write(before); err != nil {
		return err
	}
	n := s.Strips()
	packed, bytes := make([]Packed, n), make([][]byte, min(atOnce, n))
	for i := 0; i < n; i += atOnce {
		some := bytes[:min(atOnce, n-i)]
		if err := packSome(s, i, some, packed, progress); err != nil {
			return err
		}
		for _, b := range some {
			if _, err := out.Write(b); err != nil {
				return err
			}
		}
	}
	_, after, err := s.Join(packed)
	if err == nil {
		_, err = out.Write(after)
	}
	return err
}

// gather writes a file that begins with the sizes of its strips: all are packed first.
func gather(out io.Writer, s Strips, progress func(share float64)) error {
	packed, bytes := make([]Packed, s.Strips()), make([][]byte, s.Strips())
	if err := packSome(s, 0, bytes, packed, progress); err != nil {
		return err
	}
	before, after, err := s.Join(packed)
	if err != nil {
		return err
	}
	for _, b := range append(append([][]byte{before}, bytes...), after) {
		if _, err := out.Write(b); err != nil {
			return err
		}
	}
	return nil
}

// packSome packs strips from first on, one for each of to, over what that holds.
func packSome(s Strips, first int, to [][]byte, packed []Packed, progress func(share float64)) error {
	errs := make([]error, len(to))
	var next atomic.Int64
	var mu sync.Mutex
	done := 0
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(to)) {
		wg.Go(func() {
			for k := int(next.Add(1)) - 1; k < len(to); k = int(next.Add(1)) - 1 {
				var sum uint32
				to[k], sum, errs[k] = s.Pack(to[k][:0], first+k)
				packed[first+k] = Packed{len(to[k]), sum}
				mu.Lock()
				done++
				if progress != nil {
					progress(float64(first+done) / float64(len(packed)))
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	return errors.Join(errs...)
}

// scratch is what one strip after the other is drawn and packed in.
type scratch struct {
	row     []uint16
	rgba    [2][]byte
	raw     []byte
	packers map[int]*flate.Writer // by level
}

var scratches = sync.Pool{New: func() any { return &scratch{packers: map[int]*flate.Writer{}} }}

// atLeast is a slice of n values, of which nothing is known.
func atLeast[T any](s *[]T, n int) []T {
	if cap(*s) < n {
		*s = make([]T, n)
	}
	*s = (*s)[:n]
	return *s
}

// appender appends what is written to it.
type appender struct{ to []byte }

func (a *appender) Write(b []byte) (int, error) {
	a.to = append(a.to, b...)
	return len(b), nil
}

// packer packs what lies in raw into a. In differences of neighbours on film nothing comes
// back that would be worth to be looked for, which takes by far the longest: codes of
// uneven length alone make them smaller. It is where most is one value that runs count.
func (s *scratch) packer(a *appender) (*flate.Writer, error) {
	const mostly = 0.75
	level := flate.HuffmanOnly
	var count [256]int
	for _, v := range s.raw {
		count[v]++
	}
	if float64(slices.Max(count[:])) > mostly*float64(len(s.raw)) {
		level = flate.BestSpeed
	}
	if w := s.packers[level]; w != nil {
		w.Reset(a)
		return w, nil
	}
	w, err := flate.NewWriter(a, level)
	s.packers[level] = w
	return w, err
}

// zlibHead says Deflate with a window of 32 kB, packed fast (RFC 1950, section 2.2).
var zlibHead = [2]byte{0x78, 0x01}

// zlib appends what lies in raw as a stream of its own (RFC 1950).
func (s *scratch) zlib(to []byte) ([]byte, error) {
	a := &appender{append(to, zlibHead[:]...)}
	w, err := s.packer(a)
	if err == nil {
		_, err = w.Write(s.raw)
	}
	if err == nil {
		err = w.Close()
	}
	return binary.BigEndian.AppendUint32(a.to, adler32.Checksum(s.raw)), err
}

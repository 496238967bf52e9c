package sheet

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"runtime"
	"sync"
)

// stripBytes is what a strip holds about: large enough for Deflate's window of
// 32 kB, small enough for readers that take one strip at a time.
const stripBytes = 1 << 18

// rowsPerStrip is how many rows a strip has, but for the last.
func (t TIFF) rowsPerStrip() int {
	bytes := 2 * t.W * t.Samples
	if t.TwoLevel {
		bytes = (t.W + 7) / 8
	}
	return max(min(stripBytes/bytes, t.H), 1)
}

// strips packs the picture, on all processors, and returns the rows a strip
// has.
func (t TIFF) strips() ([][]byte, int, error) {
	rows := t.rowsPerStrip()
	out := make([][]byte, (t.H+rows-1)/rows)
	errs := make([]error, len(out))
	var mu sync.Mutex
	next, done := 0, 0
	take := func(finished int) int {
		mu.Lock()
		defer mu.Unlock()
		done += finished
		if t.Progress != nil && finished > 0 {
			t.Progress(float64(done) / float64(len(out)))
		}
		next++
		return next - 1
	}
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(out)) {
		wg.Go(func() {
			row, raw := make([]uint16, t.W*t.Samples), []byte{}
			for i := take(0); i < len(out); i = take(1) {
				raw = raw[:0]
				for y := i * rows; y < min((i+1)*rows, t.H); y++ {
					t.Row(y, row)
					if t.TwoLevel {
						raw = bits(raw, row)
					} else {
						raw = differences(raw, row, t.Samples)
					}
				}
				out[i], errs[i] = deflate(raw)
			}
		})
	}
	wg.Wait()
	return out, rows, errors.Join(errs...)
}

// differences appends a row, low byte first, each sample less the same sample
// of the pixel at its left (TIFF 6.0, section 14).
func differences(to []byte, row []uint16, samples int) []byte {
	for i, v := range row {
		if i >= samples {
			v -= row[i-samples]
		}
		to = binary.LittleEndian.AppendUint16(to, v)
	}
	return to
}

// bits appends a row of one bit a pixel, the first in the highest, to whole bytes.
func bits(to []byte, row []uint16) []byte {
	begin := len(to)
	to = append(to, make([]byte, (len(row)+7)/8)...)
	for x, v := range row {
		if v >= 1<<15 {
			to[begin+x/8] |= 0x80 >> (x % 8)
		}
	}
	return to
}

// atOnce is how many strips of a plain file are drawn before they are written.
const atOnce = 32

// writePlain writes the file with its strips as they are, drawn on all processors, a few
// at a time.
func (t TIFF) writePlain(out io.Writer) error {
	rows, row := t.rowsPerStrip(), 2*t.W*t.Samples
	n := (t.H + rows - 1) / rows
	sizes, starts := make([]uint32, n), make([]uint32, n)
	for i := range sizes {
		sizes[i] = uint32(row * (min((i+1)*rows, t.H) - i*rows))
	}
	at := uint64(len(assemble(t.fields(rows, longs(sizes...), longs(starts...)))))
	for i, size := range sizes {
		starts[i] = uint32(at)
		at += uint64(size)
	}
	if at > math.MaxUint32 {
		return t.tooLarge()
	}
	if _, err := out.Write(assemble(t.fields(rows, longs(sizes...), longs(starts...)))); err != nil {
		return err
	}
	drawn := make([]byte, atOnce*rows*row)
	for y0 := 0; y0 < t.H; y0 += atOnce * rows {
		y1 := min(y0+atOnce*rows, t.H)
		workers := runtime.GOMAXPROCS(0)
		var wg sync.WaitGroup
		for k := range workers {
			wg.Go(func() {
				values := make([]uint16, t.W*t.Samples)
				for y := y0 + (y1-y0)*k/workers; y < y0+(y1-y0)*(k+1)/workers; y++ {
					t.Row(y, values)
					to := drawn[(y-y0)*row : (y-y0+1)*row]
					for i, v := range values {
						binary.LittleEndian.PutUint16(to[2*i:], v)
					}
				}
			})
		}
		wg.Wait()
		if _, err := out.Write(drawn[:(y1-y0)*row]); err != nil {
			return err
		}
		if t.Progress != nil {
			t.Progress(float64(y1) / float64(t.H))
		}
	}
	return nil
}

func deflate(raw []byte) ([]byte, error) {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	if _, err := z.Write(raw); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

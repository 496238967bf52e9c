package sheet

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"runtime"
	"sync"
)

// stripBytes is what a strip holds about: large enough for Deflate's window of
// 32 kB, small enough for readers that take one strip at a time.
const stripBytes = 1 << 18

// strips packs the picture, on all processors, and returns the rows a strip
// has.
func (t TIFF) strips() ([][]byte, int, error) {
	rows := max(min(stripBytes/(2*t.W*t.Samples), t.H), 1)
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
					raw = differences(raw, row, t.Samples)
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

package render

import (
	"image"
	"runtime"
	"sync"
)

// row writes a row of the picture, four bytes a pixel, as At gives it.
func (p *Picture) row(kind Kind, y int, out []uint8) {
	for x := range len(out) / 4 {
		put(out[4*x:4*x+4:4*x+4], p.At(kind, float64(x), float64(y)))
	}
}

func put(px []uint8, c RGB) {
	px[0] = uint8(c[0]*255 + 0.5)
	px[1] = uint8(c[1]*255 + 0.5)
	px[2] = uint8(c[2]*255 + 0.5)
	px[3] = 255
}

// Rows makes what draws the rows of the picture at w × h pixels, four bytes a pixel, in
// any order, several at a time. Each channel is that of At, or the next code where
// whole numbers round otherwise. Of the planes only the rows behind those that are drawn
// need be there.
func (p *Picture) Rows(kind Kind, w, h int) func(y int, rgba []uint8) {
	if s := p.swiftly(kind, w, h); s != nil {
		return s.row
	}
	return func(y int, rgba []uint8) { p.row(kind, y, rgba) }
}

// Image renders the picture as Rows does, on all processors. progress, where
// not nil, is told the share done, from one goroutine at a time; where it
// returns false the work stops and Image returns nil.
func (p *Picture) Image(kind Kind, w, h int, progress func(share float64) bool) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	row := p.Rows(kind, w, h)
	const strip = 32
	var mu sync.Mutex
	next, done, stopped := 0, 0, false
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for {
				mu.Lock()
				y := next
				next += strip
				stop := stopped
				mu.Unlock()
				if stop || y >= h {
					return
				}
				end := min(y+strip, h)
				rows := end - y
				for ; y < end; y++ {
					row(y, img.Pix[y*img.Stride:y*img.Stride+4*w])
				}
				mu.Lock()
				done += rows
				if progress != nil && !stopped && !progress(float64(done)/float64(h)) {
					stopped = true
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	if stopped {
		return nil
	}
	return img
}

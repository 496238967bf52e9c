package render

import (
	"image"
	"runtime"
	"sync"
)

// Rows writes rows y0 … y1-1 of the picture into img, whose bounds begin at
// (0, 0). Different row ranges may be written at the same time.
func (p *Picture) Rows(kind Kind, img *image.NRGBA, y0, y1 int) {
	w := img.Bounds().Dx()
	for y := y0; y < y1; y++ {
		out := img.Pix[y*img.Stride : y*img.Stride+4*w]
		if kind == Reference {
			p.referenceRow(out, y)
		} else {
			p.printRow(out, y)
		}
	}
}

func (p *Picture) printRow(out []uint8, y int) {
	for x := range len(out) / 4 {
		put(out[4*x:4*x+4:4*x+4], p.lookUp(p.Coordinates(float64(x), float64(y))))
	}
}

func (p *Picture) referenceRow(out []uint8, y int) {
	for x := range len(out) / 4 {
		put(out[4*x:4*x+4:4*x+4], p.At(Reference, float64(x), float64(y)))
	}
}

func put(px []uint8, c RGB) {
	px[0] = uint8(c[0]*255 + 0.5)
	px[1] = uint8(c[1]*255 + 0.5)
	px[2] = uint8(c[2]*255 + 0.5)
	px[3] = 255
}

// Image renders the picture at w × h pixels, on all processors. progress, where
// not nil, is told the share done, from one goroutine at a time; where it
// returns false the work stops and Image returns nil.
func (p *Picture) Image(kind Kind, w, h int, progress func(share float64) bool) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
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
				p.Rows(kind, img, y, end)
				mu.Lock()
				done += end - y
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

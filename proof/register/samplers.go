package register

import (
	"math"

	"threeply/proof/plane"
)

// sampler fills a row with the tones of a plane along a line; outside it takes the nearest
// pixel. Both samplers count in whole numbers, which takes half the time: places in parts
// of wholePixel, weights in parts of oneWeight.
type sampler func(p plane.Window, tone *toneTable, row []float32, at line)

const (
	pixelBits  = 32
	wholePixel = 1 << pixelBits // a pixel's side
	weightBits = 16
	oneWeight  = 1 << weightBits
)

// parts is a line in parts of wholePixel, moved by more.
func (l line) parts(more int) (x, y, dx, dy int) {
	return int(math.Round(l.x*wholePixel)) + more, int(math.Round(l.y*wholePixel)) + more, int(math.Round(l.dx * wholePixel)), int(math.Round(l.dy * wholePixel))
}

// bilinear interpolates between the four nearest pixels: fast, a little soft.
func bilinear(p plane.Window, tone *toneTable, row []float32, at line) {
	inside := at.within(p, len(row), 0, 1)
	nextX, nextY, dx, dy := at.parts(0)
	for i := range row {
		x, y, right, down := nextX, nextY, 1, p.Stride
		nextX += dx
		nextY += dy
		if !inside {
			x, y = min(max(x, 0), (p.W-1)*wholePixel), min(max(y, 0), (p.H-1)*wholePixel)
			if x>>pixelBits == p.W-1 {
				right = 0
			}
			if y>>pixelBits == p.H-1 {
				down = 0
			}
		}
		o := y>>pixelBits*p.Stride + x>>pixelBits - p.Base
		fx, fy := x>>(pixelBits-weightBits)&(oneWeight-1), y>>(pixelBits-weightBits)&(oneWeight-1)
		a := int(p.Pix[o])*(oneWeight-fx) + int(p.Pix[o+right])*fx
		b := int(p.Pix[o+down])*(oneWeight-fx) + int(p.Pix[o+down+right])*fx
		row[i] = tone.atParts(a*(oneWeight-fy) + b*fy)
	}
}

// bicubic interpolates p with the Catmull-Rom kernel (R. Keys, IEEE Trans. ASSP 29 (1981)
// 1153, a = -1/2) and looks the codes up in tone.
func bicubic(p plane.Window, tone *toneTable, row []float32, at line) {
	inside := at.within(p, len(row), 1, 2)
	nextX, nextY, dx, dy := at.parts(wholePixel / cubicSteps / 2)
	for i := range row {
		x, y := nextX, nextY
		nextX += dx
		nextY += dy
		if !inside {
			x, y = min(max(x, 0), (p.W-1)*wholePixel), min(max(y, 0), (p.H-1)*wholePixel)
		}
		ix, iy := x>>pixelBits, y>>pixelBits
		across, down := &catmullRom[x/(wholePixel/cubicSteps)&(cubicSteps-1)], &catmullRom[y/(wholePixel/cubicSteps)&(cubicSteps-1)]
		sum := 0
		if inside {
			o := (iy-1)*p.Stride + ix - 1 - p.Base
			for _, k := range down {
				r := p.Pix[o : o+4 : o+4]
				sum += k * (across[0]*int(r[0]) + across[1]*int(r[1]) + across[2]*int(r[2]) + across[3]*int(r[3]))
				o += p.Stride
			}
		} else {
			x0, x2, x3 := max(ix-1, 0), min(ix+1, p.W-1), min(ix+2, p.W-1)
			for j, k := range down {
				o := min(max(iy+j-1, 0), p.H-1)*p.Stride - p.Base
				sum += k * (across[0]*int(p.Pix[o+x0]) + across[1]*int(p.Pix[o+ix]) + across[2]*int(p.Pix[o+x2]) + across[3]*int(p.Pix[o+x3]))
			}
		}
		row[i] = tone.atParts(min(max(sum, 0), 65535*oneWeight*oneWeight))
	}
}

// catmullRom is the four weights of the kernel for every step between two pixels. A step
// more or less is a two-thousandth of a pixel at most.
var catmullRom = func() (t [cubicSteps][4]int) {
	for i := range t {
		f := float64(i) / cubicSteps
		f2, f3 := f*f, f*f*f
		for k, w := range [4]float64{(-f3 + 2*f2 - f) / 2, (3*f3 - 5*f2 + 2) / 2, (-3*f3 + 4*f2 + f) / 2, (f3 - f2) / 2} {
			t[i][k] = int(math.Round(oneWeight * w))
		}
	}
	return t
}()

const cubicSteps = 1024

// atParts is the tone of a density code in parts of oneWeight squared.
func (t *toneTable) atParts(code int) float32 {
	const bits = 2*weightBits + 6 // the table holds every 64th code
	i := code >> bits & 1023
	f := float32(code>>(bits-16)&(1<<16-1)) * (1.0 / (1 << 16))
	return t[i] + f*(t[i+1]-t[i])
}

package register

import (
	"math"
	"slices"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// pyramid is a plate with its halves, ready to be registered: with the tones that its
// codes stand for, and the area that carries the picture.
type pyramid struct {
	levels []*plane.Plane
	tone   []float32
	area   [4]float64 // x0, y0, x1, y1 of the full size
}

// smallest is the longest side of the last level.
const smallest = 64

func newPyramid(p *plane.Plane, negative bool, area [4]int) *pyramid {
	s := &pyramid{levels: p.Pyramid(smallest)}
	w, h := float64(p.W), float64(p.H)
	s.area = [4]float64{w * 0.05, h * 0.05, w * 0.95, h * 0.95}
	x0, y0 := float64(max(area[0], 0)), float64(max(area[1], 0))
	x1, y1 := float64(min(area[2], p.W)), float64(min(area[3], p.H))
	if x1-x0 > w/3 && y1-y0 > h/3 {
		in := 0.01 * min(x1-x0, y1-y0)
		s.area = [4]float64{x0 + in, y0 + in, x1 - in, y1 - in}
	}
	s.tone = toneTable(negative, s.white(negative))
	return s
}

// white is the density of the scene's white: one in fifty places of the area goes
// beyond it.
func (s *pyramid) white(negative bool) float64 {
	l := len(s.levels) - 1
	p := s.levels[l]
	var codes []uint16
	for y := range p.H {
		for x := range p.W {
			if fx, fy := affine.FromLevel(l).Apply(float64(x), float64(y)); s.has(fx, fy) {
				codes = append(codes, p.At(x, y))
			}
		}
	}
	if len(codes) == 0 {
		return 0
	}
	slices.Sort(codes)
	i := len(codes) / 50
	if negative {
		i = len(codes) - 1 - i
	}
	return float64(codes[i]) * 4 / 65535
}

// levelFor is the finest level whose longer side is at most side.
func (s *pyramid) levelFor(side int) int {
	for l, p := range s.levels {
		if max(p.W, p.H) <= side {
			return l
		}
	}
	return len(s.levels) - 1
}

// warp draws w × h pixels of s; t takes their positions to those of the full
// size. It samples the level whose pixels come closest to t's in size, by the
// kernel: bilinear, or bicubic. inside is the share of the four corners and the centre
// that fall in the picture's area.
func (s *pyramid) warp(t affine.Matrix, w, h int, kernel sampler) (out tones, inside float64) {
	l := int(math.Floor(math.Log2(math.Sqrt(math.Abs(t.Det()))) + 0.5))
	l = min(max(l, 0), len(s.levels)-1)
	p, in := s.levels[l], affine.ToLevel(l).Mul(t)
	out = newTones(w, h)
	for y := range h {
		px, py := in.Apply(0, float64(y))
		for x := range w {
			out.v[y*w+x] = kernel(p, s.tone, float32(px), float32(py))
			px += in[0]
			py += in[3]
		}
	}
	for _, c := range [5][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}, {0.5, 0.5}} {
		if x, y := t.Apply(c[0]*float64(w-1), c[1]*float64(h-1)); s.has(x, y) {
			inside += 0.2
		}
	}
	return out, inside
}

func (s *pyramid) has(x, y float64) bool {
	return x >= s.area[0] && y >= s.area[1] && x <= s.area[2] && y <= s.area[3]
}

// sampler gives the tone of a plane at a position; outside it takes the nearest
// pixel.
type sampler func(p *plane.Plane, tone []float32, x, y float32) float32

// bilinear interpolates between the four nearest pixels: fast, a little soft.
func bilinear(p *plane.Plane, tone []float32, x, y float32) float32 {
	x = min(max(x, 0), float32(p.W-1))
	y = min(max(y, 0), float32(p.H-1))
	ix, iy := int(x), int(y)
	fx, fy := x-float32(ix), y-float32(iy)
	o := iy*p.W + ix
	right, down := min(1, p.W-1-ix), p.W*min(1, p.H-1-iy)
	a := float32(p.Pix[o])*(1-fx) + float32(p.Pix[o+right])*fx
	b := float32(p.Pix[o+down])*(1-fx) + float32(p.Pix[o+down+right])*fx
	return toneAt(tone, a*(1-fy)+b*fy)
}

// bicubic interpolates p at (x, y) with the Catmull-Rom kernel (R. Keys, IEEE
// Trans. ASSP 29 (1981) 1153, a = -1/2) and looks the code up in tone.
func bicubic(p *plane.Plane, tone []float32, x, y float32) float32 {
	x = min(max(x, 0), float32(p.W-1))
	y = min(max(y, 0), float32(p.H-1))
	ix, iy := int(x), int(y)
	fx, fy := x-float32(ix), y-float32(iy)
	ax, bx, cx, dx := weights(fx)
	ay, by, cy, dy := weights(fy)
	var sum float32
	if ix >= 1 && iy >= 1 && ix+2 < p.W && iy+2 < p.H {
		o := (iy-1)*p.W + ix - 1
		for _, k := range [4]float32{ay, by, cy, dy} {
			r := p.Pix[o : o+4 : o+4]
			sum += k * (ax*float32(r[0]) + bx*float32(r[1]) + cx*float32(r[2]) + dx*float32(r[3]))
			o += p.W
		}
	} else {
		x0, x2, x3 := max(ix-1, 0), min(ix+1, p.W-1), min(ix+2, p.W-1)
		for j, k := range [4]float32{ay, by, cy, dy} {
			r := p.Row(min(max(iy+j-1, 0), p.H-1))
			sum += k * (ax*float32(r[x0]) + bx*float32(r[ix]) + cx*float32(r[x2]) + dx*float32(r[x3]))
		}
	}
	return toneAt(tone, min(max(sum, 0), 65535))
}

func weights(f float32) (a, b, c, d float32) {
	f2 := f * f
	f3 := f2 * f
	return (-f3 + 2*f2 - f) / 2, (3*f3 - 5*f2 + 2) / 2, (-3*f3 + 4*f2 + f) / 2, (f3 - f2) / 2
}

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
	levels   []*plane.Plane
	negative bool
	white    float64    // density of the scene's white
	tone     *toneTable // of light where soft is set, see match.go
	soft     []float32  // half a kernel that softens the light, from its middle on
	area     [4]float64 // x0, y0, x1, y1 of the full size
}

// smallest is the longest side of the last level.
const smallest = 64

func newPyramid(p *plane.Plane, negative bool, area [4]int) *pyramid {
	s := &pyramid{levels: p.Pyramid(smallest), negative: negative}
	w, h := float64(p.W), float64(p.H)
	s.area = [4]float64{w * 0.05, h * 0.05, w * 0.95, h * 0.95}
	x0, y0 := float64(max(area[0], 0)), float64(max(area[1], 0))
	x1, y1 := float64(min(area[2], p.W)), float64(min(area[3], p.H))
	if x1-x0 > w/3 && y1-y0 > h/3 {
		in := 0.01 * min(x1-x0, y1-y0)
		s.area = [4]float64{x0 + in, y0 + in, x1 - in, y1 - in}
	}
	s.white = s.findWhite()
	s.tone = newToneTable(negative, s.white)
	return s
}

// findWhite is the density of the scene's white: one in fifty places of the area goes
// beyond it.
func (s *pyramid) findWhite() float64 {
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
	if s.negative {
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
		x, y0 := in.Apply(0, float64(y))
		kernel(p, s.tone, out.v[y*w:(y+1)*w], line{x, y0, in[0], in[3]})
	}
	for _, c := range [5][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}, {0.5, 0.5}} {
		if x, y := t.Apply(c[0]*float64(w-1), c[1]*float64(h-1)); s.has(x, y) {
			inside += 0.2
		}
	}
	return out, inside
}

// margin is what the blur and the gradient need around a picture that edgesWithin takes.
func (s *pyramid) margin() int {
	if s.soft == nil {
		return 3
	}
	return len(s.soft)
}

// edgesWithin is w × h pixels of edge field, out of a picture of s with a margin around.
func (s *pyramid) edgesWithin(pic tones, w, h int) edgeField {
	var q edgeField
	if s.soft == nil {
		blur(pic)
		q = edges(pic)
	} else {
		soften(pic, s.soft)
		q = edgesOfLight(pic)
	}
	out, margin := edgeField{w, h, make([]complex64, w*h)}, s.margin()
	for y := range h {
		copy(out.v[y*w:(y+1)*w], q.v[(y+margin)*q.w+margin:])
	}
	return out
}

func (s *pyramid) has(x, y float64) bool {
	return x >= s.area[0] && y >= s.area[1] && x <= s.area[2] && y <= s.area[3]
}

// line is a row of positions of a plane, in pixels: the first, and the step from each to
// the next.
type line struct{ x, y, dx, dy float64 }

// within tells whether n positions of the line, and what lies up to back pixels before and
// ahead pixels after each of them, are all on the plane.
func (l line) within(p *plane.Plane, n, back, ahead int) bool {
	on := func(at float64, side int) bool { return at >= float64(back) && at < float64(side-ahead) }
	m := float64(n - 1)
	const rounding = 1e-3
	ex, ey := l.x+m*l.dx, l.y+m*l.dy
	return on(min(l.x, ex)-rounding, p.W) && on(max(l.x, ex)+rounding, p.W) && on(min(l.y, ey)-rounding, p.H) && on(max(l.y, ey)+rounding, p.H)
}

// sampler fills a row with the tones of a plane along a line; outside it takes the nearest
// pixel.
type sampler func(p *plane.Plane, tone *toneTable, row []float32, at line)

// bilinear interpolates between the four nearest pixels: fast, a little soft.
func bilinear(p *plane.Plane, tone *toneTable, row []float32, at line) {
	inside := at.within(p, len(row), 0, 1)
	for i := range row {
		x, y := float32(at.x), float32(at.y)
		at.x += at.dx
		at.y += at.dy
		if inside {
			ix, iy := int(x), int(y)
			fx, fy := x-float32(ix), y-float32(iy)
			o := iy*p.W + ix
			up, low := p.Pix[o:o+2:o+2], p.Pix[o+p.W:o+p.W+2:o+p.W+2]
			a := float32(up[0])*(1-fx) + float32(up[1])*fx
			b := float32(low[0])*(1-fx) + float32(low[1])*fx
			row[i] = tone.at(a*(1-fy) + b*fy)
			continue
		}
		x = min(max(x, 0), float32(p.W-1))
		y = min(max(y, 0), float32(p.H-1))
		ix, iy := int(x), int(y)
		fx, fy := x-float32(ix), y-float32(iy)
		o := iy*p.W + ix
		right, down := min(1, p.W-1-ix), p.W*min(1, p.H-1-iy)
		a := float32(p.Pix[o])*(1-fx) + float32(p.Pix[o+right])*fx
		b := float32(p.Pix[o+down])*(1-fx) + float32(p.Pix[o+down+right])*fx
		row[i] = tone.at(a*(1-fy) + b*fy)
	}
}

// bicubic interpolates p with the Catmull-Rom kernel (R. Keys, IEEE Trans. ASSP 29 (1981)
// 1153, a = -1/2) and looks the codes up in tone.
func bicubic(p *plane.Plane, tone *toneTable, row []float32, at line) {
	inside := at.within(p, len(row), 1, 2)
	for i := range row {
		x, y := min(max(float32(at.x), 0), float32(p.W-1)), min(max(float32(at.y), 0), float32(p.H-1))
		at.x += at.dx
		at.y += at.dy
		ix, iy := int(x), int(y)
		ax, bx, cx, dx := weights(x - float32(ix))
		ay, by, cy, dy := weights(y - float32(iy))
		var sum float32
		if inside {
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
		row[i] = tone.at(min(max(sum, 0), 65535))
	}
}

func weights(f float32) (a, b, c, d float32) {
	f2 := f * f
	f3 := f2 * f
	return (-f3 + 2*f2 - f) / 2, (3*f3 - 5*f2 + 2) / 2, (-3*f3 + 4*f2 + f) / 2, (f3 - f2) / 2
}

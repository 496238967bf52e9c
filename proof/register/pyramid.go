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
// kernel: bilinear, or bicubic.
func (s *pyramid) warp(r *room, t affine.Matrix, w, h int, kernel sampler) tones {
	l := int(math.Floor(math.Log2(math.Sqrt(math.Abs(t.Det()))) + 0.5))
	l = min(max(l, 0), len(s.levels)-1)
	p, in := s.levels[l], affine.ToLevel(l).Mul(t)
	out := r.picture(w, h)
	part := p.Window(boxUnder(in, w, h), &r.codes)
	for y := range h {
		x, y0 := in.Apply(0, float64(y))
		kernel(part, s.tone, out.v[y*w:(y+1)*w], line{x, y0, in[0], in[3]})
	}
	return out
}

// boxUnder is what w × h pixels are drawn from by either sampler; t takes their positions to those of
// the plane.
func boxUnder(t affine.Matrix, w, h int) plane.Box {
	const around = 3 // pixels: the kernel's, and rounding
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range [4][2]int{{0, 0}, {w - 1, 0}, {0, h - 1}, {w - 1, h - 1}} {
		x, y := t.Apply(float64(c[0]), float64(c[1]))
		x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
	}
	const far = 1 << 30 // beyond every plane
	whole := func(v float64) int { return int(min(max(v, -far), far)) }
	return plane.Box{X0: whole(x0) - around, Y0: whole(y0) - around, X1: whole(x1) + around + 1, Y1: whole(y1) + around + 1}
}

// covers is the share of the corners and the centre of a square, seen through t as warp does,
// that fall in the picture's area.
func (s *pyramid) covers(t affine.Matrix, side int) (share float64) {
	for _, c := range [5][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}, {0.5, 0.5}} {
		if x, y := t.Apply(c[0]*float64(side-1), c[1]*float64(side-1)); s.has(x, y) {
			share += 0.2
		}
	}
	return share
}

// margin is what the blur and the gradient need around a picture that edgesWithin takes.
func (s *pyramid) margin() int {
	if s.soft == nil {
		return 3
	}
	return len(s.soft)
}

// edgesWithin is the edge field of a picture of s without the margin around it: v begins at
// its first pixel, and has stride values to the row. v holds until r is used again.
func (s *pyramid) edgesWithin(r *room, pic tones) (v []complex64, stride int) {
	if s.soft == nil {
		blur(r, pic)
	} else {
		soften(r, pic, s.soft)
	}
	q, margin := edgesOf(r, pic, s.soft != nil), s.margin()
	return q.v[margin*q.w+margin:], q.w
}

func (s *pyramid) has(x, y float64) bool {
	return x >= s.area[0] && y >= s.area[1] && x <= s.area[2] && y <= s.area[3]
}

// line is a row of positions of a plane, in pixels: the first, and the step from each to
// the next.
type line struct{ x, y, dx, dy float64 }

// within tells whether n positions of the line, and what lies up to back pixels before and
// ahead pixels after each of them, are all on the plane.
func (l line) within(p plane.Window, n, back, ahead int) bool {
	on := func(at float64, side int) bool { return at >= float64(back) && at < float64(side-ahead) }
	m := float64(n - 1)
	const rounding = 1e-3
	ex, ey := l.x+m*l.dx, l.y+m*l.dy
	return on(min(l.x, ex)-rounding, p.W) && on(max(l.x, ex)+rounding, p.W) && on(min(l.y, ey)-rounding, p.H) && on(max(l.y, ey)+rounding, p.H)
}

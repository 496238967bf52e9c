package place

import "threeply/proof/session"

// Reached is the part of the key's frame that the plates of all given sources reach: the
// corners of a convex polygon in pixels of the key, in turn; none where there is no such
// part. A local register, which moves an edge by a pixel or two, is left out.
func Reached(s *session.State, sources ...int) [][2]float64 {
	w, h := s.Frame()
	out := [][2]float64{{-0.5, -0.5}, {float64(w) - 0.5, -0.5}, {float64(w) - 0.5, float64(h) - 0.5}, {-0.5, float64(h) - 0.5}}
	for _, i := range sources {
		m := Register(s, i)
		a, b := float64(s.Sources[i].W)-0.5, float64(s.Sources[i].H)-0.5
		out = within(out, func(x, y float64) float64 { u, _ := m.Apply(x, y); return u + 0.5 })
		out = within(out, func(x, y float64) float64 { u, _ := m.Apply(x, y); return a - u })
		out = within(out, func(x, y float64) float64 { _, v := m.Apply(x, y); return v + 0.5 })
		out = within(out, func(x, y float64) float64 { _, v := m.Apply(x, y); return b - v })
	}
	return out
}

// within cuts a convex polygon along the line where inside, which is linear in x and y,
// is 0, and keeps the part where it is more (I. E. Sutherland and G. W. Hodgman, Comm. ACM
// 17 (1974) 32).
func within(corners [][2]float64, inside func(x, y float64) float64) [][2]float64 {
	var out [][2]float64
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		a, b := inside(p[0], p[1]), inside(q[0], q[1])
		if a >= 0 {
			out = append(out, p)
		}
		if (a < 0) != (b < 0) {
			t := a / (a - b)
			out = append(out, [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
		}
	}
	return out
}

// InBox is the part of a convex polygon that lies in a box.
func InBox(corners [][2]float64, x0, y0, x1, y1 float64) [][2]float64 {
	corners = within(corners, func(x, _ float64) float64 { return x - x0 })
	corners = within(corners, func(x, _ float64) float64 { return x1 - x })
	corners = within(corners, func(_, y float64) float64 { return y - y0 })
	return within(corners, func(_, y float64) float64 { return y1 - y })
}

// Unreached is the share of the key's frame that not all plates of the given sources
// reach, 0..1.
func Unreached(s *session.State, sources ...int) float64 {
	w, h := s.Frame()
	return min(max(1-AreaOf(Reached(s, sources...))/max(float64(w)*float64(h), 1), 0), 1)
}

// AreaOf is the area of a polygon whose corners run clockwise as it is seen, x to the right
// and y down.
func AreaOf(corners [][2]float64) float64 {
	area := 0.0
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		area += (p[0]*q[1] - q[0]*p[1]) / 2
	}
	return area
}

package main

import "math"

// steps is the number of greys of the grey scale, from white to black in equal
// steps of density.
const steps = 12

// greyScale is the card with the grey scale.
type greyScale struct {
	frame
	wide, high float64 // of the row of steps, scene units
}

// stepDensity is the reflection density of step i: 0.05 to 1.70 by 0.15.
func stepDensity(i int) float64 { return 0.05 + 0.15*float64(i) }

func (s *setting) layGreyScale(f frame) greyScale {
	g := greyScale{f, 3.5, 0.36}
	card := &block{f, vec{g.wide/2 + 0.12, g.high/2 + 0.08, 0.02}}
	border := flat(0.80)
	s.put(card, func(p, n vec, part int) surface {
		q := f.local(p)
		x := q.X/g.wide + 0.5
		if part != 2 || x < 0 || x >= 1 || math.Abs(q.Y) > g.high/2 {
			return surface{dull, border, n, 0, 0}
		}
		return surface{dull, flat(math.Pow(10, -stepDensity(int(x*steps)))), n, 0, 0}
	}, nil)
	return g
}

// project returns where a point of the row of steps lies in the picture: along
// it 0 … 1 from white to black, up -0.5 … 0.5 of its height.
func (g *greyScale) project(c *camera, along, up float64) (x, y float64) {
	return c.project(g.point(vec{(along - 0.5) * g.wide, up * g.high, 0.02}))
}

// box returns the largest upright rectangle of whole pixels well inside step
// i as the camera sees it: its left upper pixel and its size.
func (g *greyScale) box(c *camera, i int) [4]int {
	const inset = 0.2
	x0, x1 := (float64(i)+inset)/steps, (float64(i)+1-inset)/steps
	const y = 0.5 - inset
	ax, ay := g.project(c, x0, y)
	bx, by := g.project(c, x1, y)
	cx, cy := g.project(c, x0, -y)
	dx, dy := g.project(c, x1, -y)
	left, top := int(math.Ceil(max(ax, cx))), int(math.Ceil(max(ay, by)))
	return [4]int{left, top, int(min(bx, dx)) - left + 1, int(min(cy, dy)) - top + 1}
}

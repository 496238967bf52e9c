package main

import (
	"math"
	"sync"
)

// plasterHead is a milliner's head of tinted plaster, modelled from balls and
// rods; it looks along its frame's W. The local origin lies between the ears.
type plasterHead struct{ *field }

// plaster is the head on the books, the same in every set: its table takes a second.
var plaster = sync.OnceValue(func() plasterHead {
	f := place(vec{2.65, 3.28, -1.05}, -26, 3, 2)
	return plasterHead{tabulate(f, vec{-1.45, -2.4, -1.35}, vec{1.45, 1.5, 1.35}, 0.025, func(p vec) float64 {
		return min(blend(face(p), hair(p), 0.05), foot(p))
	})}
})

// face is the distance to all that is flesh.
func face(p vec) float64 {
	q := vec{math.Abs(p.X), p.Y, p.Z} // the head is even on both sides
	d := toEgg(p, vec{0, 0.20, -0.08}, vec{0.74, 0.92, 0.88})
	d = blend(d, toEgg(p, vec{0, -0.30, 0.22}, vec{0.56, 0.78, 0.58}), 0.25)
	d = blend(d, toBall(p, vec{0, -0.90, 0.54}, 0.19), 0.22)
	d = blend(d, toBall(q, vec{0.34, -0.20, 0.52}, 0.27), 0.22)
	d = carve(d, toEgg(q, vec{0.29, 0.12, 0.90}, vec{0.22, 0.14, 0.17}), 0.14)
	d = blend(d, toRod(q, vec{0.10, 0.27, 0.80}, vec{0.46, 0.27, 0.62}, 0.055, 0.035), 0.10)
	d = blend(d, toEgg(q, vec{0.285, 0.09, 0.665}, vec{0.165, 0.095, 0.11}), 0.04)
	d = blend(d, toRod(p, vec{0, 0.26, 0.78}, vec{0, -0.17, 0.99}, 0.055, 0.085), 0.10)
	d = blend(d, toBall(q, vec{0.085, -0.20, 0.88}, 0.07), 0.06)
	d = carve(d, toRod(p, vec{0, -0.28, 0.97}, vec{0, -0.38, 0.90}, 0.02, 0.03), 0.05)
	d = blend(d, lips(p), 0.05)
	d = blend(d, toEgg(q, vec{0.74, 0.02, -0.06}, vec{0.07, 0.24, 0.15}), 0.06)
	d = blend(d, toRod(p, vec{0, -0.55, -0.20}, vec{0, -1.6, -0.12}, 0.37, 0.43), 0.22)
	return blend(d, toEgg(p, vec{0, -1.92, -0.10}, vec{1.02, 0.48, 0.66}), 0.35)
}

func lips(p vec) float64 {
	q := vec{math.Abs(p.X), p.Y, p.Z}
	upper := toEgg(q, vec{0.075, -0.47, 0.815}, vec{0.13, 0.05, 0.085})
	lower := toEgg(p, vec{0, -0.575, 0.795}, vec{0.145, 0.065, 0.09})
	return blend(upper, lower, 0.02)
}

// hair is a cap in set waves.
func hair(p vec) float64 {
	d := toEgg(p, vec{0, 0.27, -0.13}, vec{0.84, 0.99, 0.97})
	d = blend(d, toEgg(p, vec{0, -0.35, -0.55}, vec{0.52, 0.45, 0.38}), 0.25)
	side := p.Y + 0.55*p.Z + 0.25*math.Sin(3*p.X)
	d += 0.034 * math.Cos(2*math.Pi*side/0.30)
	line := 0.46*(p.Z-0.42) - 0.55*(p.Y-0.62) + 0.16*p.X
	return max(d, line) * 0.8
}

// foot is the round plinth that the neck stands on.
func foot(p vec) float64 {
	r := math.Hypot(p.X, p.Z+0.1)
	return math.Hypot(max(r-0.92, 0), max(math.Abs(p.Y+2.20)-0.10, 0)) - 0.04
}

// paint tints the plaster.
func (h plasterHead) paint(p, n vec, _ int) surface {
	q := h.local(p)
	chalk := 0.86 + 0.24*cloudy(q.mul(7), 3)
	if foot(q) < 0.012 {
		return surface{dull, walnut.scale(1.1), n, 0.04, 0.08}
	}
	if hair(q) < face(q)-0.004 {
		strand := grain3(q.X*4, (q.Y+0.55*q.Z)*30, q.Z*4)
		return surface{dull, hairPaint.scale(0.7 + 0.7*strand), n, 0.03, 0.25}
	}
	x := math.Abs(q.X)
	c := flesh
	c = mix(c, lipTint, 0.85*ramp(-lips(q), -0.02, -0.004))
	blush := ramp(0.34-vec{x - 0.40, q.Y + 0.20, q.Z - 0.62}.len(), 0, 0.3)
	c = mix(c, lipTint, 0.35*blush)
	brow := toRod(vec{x, q.Y, q.Z}, vec{0.12, 0.33, 0.80}, vec{0.48, 0.34, 0.62}, 0.02, 0.01)
	c = mix(c, hairPaint, 0.7*ramp(-brow, -0.055, -0.02))
	lash := toRod(vec{x, q.Y, q.Z}, vec{0.15, 0.065, 0.77}, vec{0.43, 0.07, 0.68}, 0.01, 0.01)
	c = mix(c, hairPaint, 0.6*ramp(-lash, -0.035, -0.015))
	return surface{dull, c.scale(chalk), n, 0.025, 0.25}
}

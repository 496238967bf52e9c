package main

import "math"

// bump tilts the normal n by the gradient of a height over space, sampled a
// step e apart.
func bump(p, n vec, e float64, height func(vec) float64) vec {
	h := height(p)
	g := vec{height(vec{p.X + e, p.Y, p.Z}) - h, height(vec{p.X, p.Y + e, p.Z}) - h, height(vec{p.X, p.Y, p.Z + e}) - h}.mul(1 / e)
	return n.sub(g.sub(n.mul(g.dot(n)))).unit()
}

// plain is a surface of one colour.
func plain(c spectrum, coat, rough float64) material {
	return func(_, n vec, _ int) surface { return surface{dull, c, n, coat, rough} }
}

// wave is a cosine between 0 and 1 with the given period.
func wave(x, period float64) float64 { return 0.5 + 0.5*math.Cos(2*math.Pi*x/period) }

// stripe is 1 within half a width of at, 0 outside, with soft sides.
func stripe(x, at, width float64) float64 {
	return 1 - ramp(math.Abs(x-at), width/2-0.012, width/2+0.012)
}

// orangeSkin is peel with pores and a rind that varies slowly.
func orangeSkin(f frame) material {
	pores := func(p vec) float64 { q := f.local(p); return 0.009 * grain3(q.X*24, q.Y*24, q.Z*24) }
	return func(p, n vec, _ int) surface {
		q := f.local(p)
		c := mix(orangePeel, lemonPeel, 0.35*ramp(cloudy(q.mul(2.4), 3), 0.45, 0.8))
		c = mix(c, leafGreen, 0.8*ramp(q.Y, 0.517, 0.53))
		return surface{dull, c, bump(p, n, 0.01, pores), 0.035, 0.12}
	}
}

func lemonSkin(f frame) material {
	pores := func(p vec) float64 { q := f.local(p); return 0.007 * grain3(q.X*20, q.Y*20, q.Z*20) }
	return func(p, n vec, _ int) surface {
		q := f.local(p)
		c := mix(lemonPeel, applePeel, 0.35*ramp(math.Abs(q.Y-0.5), 0.35, 0.55)+0.12*cloudy(q.mul(3), 2))
		return surface{dull, c, bump(p, n, 0.01, pores), 0.04, 0.10}
	}
}

// appleSkin is green with pale dots and a red cheek towards its frame's W.
func appleSkin(f frame, red float64) material {
	return func(p, n vec, _ int) surface {
		q := f.local(p)
		streak := cloudy(vec{11 * math.Atan2(q.X, q.Z), q.Y * 1.6, 3}, 3)
		cheek := ramp(0.8*q.Z+0.45*q.X+0.22*streak+0.35*cloudy(q.mul(2), 3), 0.66-red, 1.08-red)
		c := mix(applePeel, appleBlush, cheek)
		dots := ramp(grain3(q.X*17, q.Y*17, q.Z*17), 0.86, 0.93)
		c = mix(c, applePale, 0.7*dots)
		c = mix(c, bark, ramp(-math.Hypot(q.X, q.Z), -0.10, -0.03)*0.8)
		return surface{dull, c, n, 0.045, 0.05}
	}
}

// plumSkin is dark, with bloom that has been wiped off in places.
func plumSkin(p, n vec, _ int) surface {
	bloom := ramp(cloudy(p.mul(2.6), 4), 0.40, 0.68) * (0.45 + 0.55*ramp(n.Y, -0.4, 0.8))
	return surface{dull, mix(plumPeel, plumBloom, 0.55*bloom), n, 0.045 * (1 - 0.8*bloom), 0.06}
}

// glaze is the vase's: turquoise that runs to deep blue, a band of strokes in
// cream, craquelure.
func glaze(f frame, tall float64) material {
	return func(p, n vec, _ int) surface {
		q := f.local(p)
		turn := math.Atan2(q.X, q.Z)
		run := q.Y/tall + 0.10*(cloudy(vec{turn * 4, q.Y * 0.7, 1}, 3)-0.5)
		c := mix(deepBlue, turquoise, ramp(run, 0.12, 0.62))
		c = mix(c, hump(0.12, 0.50, 505, 60), 0.5*ramp(run, 0.84, 0.95))
		band := q.Y - 0.60*tall
		zigzag := math.Abs(frac(turn*14/(2*math.Pi))-0.5) * 0.42
		motif := max(stripe(band, zigzag-0.10, 0.055), stripe(band, 0.22, 0.04), stripe(band, -0.22, 0.04), stripe(band, -0.29, 0.025))
		c = mix(c, cream, 0.85*motif)
		c = mix(c, deepBlue, 0.25*ramp(grain3(q.X*30, q.Y*30, q.Z*30), 0.7, 0.9))
		return surface{dull, c, n, 0.055, 0.012}
	}
}

// hammered is beaten copper.
func hammered(f frame) material {
	dents := func(p vec) float64 {
		q := f.local(p)
		return 0.012 * grain3(math.Atan2(q.X, q.Z)*5, q.Y*5, 0)
	}
	return func(p, n vec, _ int) surface {
		c := copper.scale(0.80 + 0.16*cloudy(p.mul(4), 3))
		return surface{metal, c, bump(p, n, 0.01, dents), 0, 0.06}
	}
}

// turnedBrass has been turned and polished, and is a little tarnished.
func turnedBrass(p, n vec, _ int) surface {
	tarnish := ramp(cloudy(p.mul(5), 3), 0.5, 0.8)
	return surface{metal, brass.scale(0.92 - 0.35*tarnish), n, 0, 0.05 + 0.10*tarnish}
}

// weave is willow wickerwork on a round basket.
func weave(f frame) material {
	const stakes, rowHigh = 22.0, 0.105
	over := func(q vec) (height, turn float64) {
		a := math.Atan2(q.X, q.Z) * stakes / (2 * math.Pi)
		row := math.Floor(q.Y / rowHigh)
		side := math.Cos(math.Pi * (a + row))
		return math.Sqrt(max(1-4*math.Pow(frac(q.Y/rowHigh)-0.5, 2), 0)) * (0.55 + 0.45*side), a
	}
	return func(p, n vec, _ int) surface {
		height := func(p vec) float64 { h, _ := over(f.local(p)); return 0.05 * h }
		q := f.local(p)
		h, _ := over(q)
		c := mix(willowDark, willow, ramp(h, 0.05, 0.75))
		c = mix(c, willowDark, 0.45*grain3(math.Atan2(q.X, q.Z)*9, math.Floor(q.Y/rowHigh)*3.7, 2))
		return surface{dull, c.scale(0.35 + 0.65*ramp(h, 0, 0.5)), bump(p, n, 0.012, height), 0.03, 0.25}
	}
}

// tableTop is walnut boards with grain along x.
func tableTop(p, n vec, _ int) surface {
	board := math.Floor(p.Z / 1.35)
	x, z := p.X+board*7.3, p.Z
	rings := cloudy(vec{x * 0.35, board * 4, z * 3.2}, 3)
	fibre := cloudy(vec{x * 2.2, 0, z * 42}, 2)
	c := mix(walnut, walnutPale, 0.65*wave(rings, 0.16)*0.5+0.55*fibre)
	gap := stripe(frac(p.Z/1.35), 0.0, 0.02)
	pits := ramp(cloudy(vec{x * 5, 3, z * 60}, 1), 0.78, 0.9)
	return surface{dull, c.scale((1 - 0.75*gap) * (1 - 0.4*pits)), n, 0.035, 0.22}
}

// wallPattern is distempered plaster with a worn stencil.
func wallPattern(p, n vec, _ int) surface {
	rough := func(p vec) float64 { return 0.045*cloudy(p.mul(2.2), 3) + 0.012*grain3(p.X*19, p.Y*19, 0) }
	x, y := p.X/1.7, p.Y/1.7
	row := math.Floor(y)
	if int(row)&1 == 1 {
		x += 0.5
	}
	u, v := frac(x)-0.5, frac(y)-0.5
	r, a := math.Hypot(u, v), math.Atan2(v, u)
	petal := 0.20 + 0.09*math.Cos(6*a)
	motif := ramp(petal-r, 0, 0.02) * ramp(r, 0.055, 0.075)
	motif = max(motif, ramp(0.035-r, 0, 0.02))
	motif = max(motif, stripe(r, 0.36, 0.035)*ramp(math.Cos(6*a), -0.3, 0.1))
	motif = max(motif, ramp(0.09-math.Abs(math.Abs(u)-0.5)-math.Abs(math.Abs(v)-0.5), 0, 0.02))
	worn := ramp(cloudy(p.mul(0.9), 4), 0.36, 0.56)
	c := mix(wallPaint, wallStencil, 0.80*motif*worn)
	c = c.scale(0.72 + 0.56*cloudy(vec{p.X * 0.5, p.Y * 0.5, 4}, 4))
	return surface{dull, c, bump(p, n, 0.02, rough), 0, 0}
}

// striped is the cloth's weave: broad bands of madder, cream and indigo across
// and thin ones along, with the threads on top. turn is the cloth's direction
// in degrees.
func striped(turn float64) material {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	threads := func(p vec) float64 {
		u, v := p.X*cos+p.Z*sin, -p.X*sin+p.Z*cos
		return 0.007 * (wave(u, 0.055)*wave(v, 0.11) + wave(u+0.0275, 0.055)*wave(v+0.055, 0.11))
	}
	return func(p, n vec, _ int) surface {
		u, v := p.X*cos+p.Z*sin, -p.X*sin+p.Z*cos
		wobble := 0.02 * (grain3(p.X*5, p.Z*5, 1) - 0.5)
		a := frac((u+wobble)/1.9) * 1.9
		c := madder
		c = mix(c, cream, max(stripe(a, 0.35, 0.34), stripe(a, 0.95, 0.05), stripe(a, 1.1, 0.05)))
		c = mix(c, indigo, max(stripe(a, 0.35, 0.12), stripe(a, 1.45, 0.26), stripe(a, 0.08, 0.04)))
		c = mix(c, saffron, max(stripe(a, 1.45, 0.08), stripe(a, 0.62, 0.05)))
		b := frac((v+wobble)/0.95) * 0.95
		c = mix(c, cream, 0.55*max(stripe(b, 0.2, 0.06), stripe(b, 0.34, 0.03)))
		c = mix(c, indigo, 0.35*stripe(b, 0.62, 0.10))
		c = c.scale(0.72 + 0.30*grain3(u*34, v*8, 3) + 0.22*grain3(u*8, v*34, 5))
		return surface{dull, c, bump(p, n, 0.012, threads), 0, 0}
	}
}

// bookCloth covers the book b: woven cloth on the boards and on the spine
// (part 3), leaves at the three other edges.
func bookCloth(b *block, c spectrum) material {
	return func(p, n vec, part int) surface {
		q := b.local(p)
		threads := func(p vec) float64 { return 0.004 * wave(p.X+p.Y, 0.045) * wave(p.Z-p.Y, 0.045) }
		board := b.R.Y - math.Abs(q.Y)
		if (part == 2 || part == 0 || part == 5) && board > 0.055 {
			leaf := grain3(q.X*3, q.Y*70, q.Z*3)
			return surface{dull, paper.scale(0.45 + 0.6*leaf), n, 0, 0}
		}
		colour := c.scale(0.8 + 0.35*cloudy(q.mul(9), 2))
		if part == 1 {
			edge := min(b.R.X-math.Abs(q.X), b.R.Z-math.Abs(q.Z))
			colour = mix(colour, saffron, 0.8*max(stripe(edge, 0.16, 0.03), stripe(edge, 0.24, 0.015)))
		}
		if part == 3 {
			colour = mix(colour, saffron, 0.8*max(stripe(math.Abs(q.Z), 0.55, 0.04), stripe(math.Abs(q.Z), 0.66, 0.02)))
		}
		return surface{dull, colour, bump(p, n, 0.006, threads), 0.02, 0.3}
	}
}

package main

import "math"

// The scene: a corner of a studio at a north window in winter. A laid table
// with a basket of fruit, a carafe of red cordial, a glazed vase with twigs and
// berries, a copper pot, a brass candlestick, books, a milliner's head of
// tinted plaster, and a grey scale along the lower edge, to be trimmed.

// setting is the lit scene and what the truth needs to know of it.
type setting struct {
	*world
	camera camera
	greys  greyScale
}

// arrange builds the scene for a picture of w × h pixels.
func arrange(w, h int) setting {
	s := setting{world: &world{}}
	s.camera = look(vec{0.5, 5.3, 17}, vec{0.1, 2.00, 0}, 36.5, 17.3, 0.055, w, h)
	s.lamp = window(vec{-10.5, 8.6, 6.5}, vec{0, 1.2, 0}, 2.3, 3.0, blackbody(4300), 3, 4)
	sky, lampLight := blackbody(5000), blackbody(3000)
	s.room = func(d vec) spectrum {
		up := 0.5 + 0.5*d.Y
		c := sky.scale(0.0012 + 0.0032*up)
		c.addScaled(0.002, &lampLight)
		c.addScaled(0.012*ramp(d.X, 0.55, 0.95)*ramp(d.Y, -0.3, 0.3), &lampLight)
		return c
	}
	s.greys = s.layGreyScale(place(vec{1.95, 0.24, 4.22}, 0, -34, 0))
	s.wallAndTable()
	s.basket(vec{-1.75, 0, 1.15})
	s.looseFruit()
	s.carafe(vec{0.62, 0.03, -0.55})
	s.vase(vec{-2.75, 0.02, -1.75})
	s.copperPot(vec{-4.55, 0, -0.35})
	s.candle(vec{4.75, 0, -1.35})
	s.headAndBooks()
	return s
}

// wallAndTable is the wall, the table and the cloth.
func (s *setting) wallAndTable() {
	s.put(&block{place(vec{0, 4, -7.5}, 0, 0, 0), vec{14, 10, 1}}, wallPattern, nil)
	s.put(&block{place(vec{0, -1, -0.6}, 0, 0, 0), vec{13, 1, 5.9}}, tableTop, nil)
	turn := 24.0
	sin, cos := math.Sincos(turn * math.Pi / 180)
	covered := func(x, z float64) float64 {
		u, v := (x+2.2)*cos+(z-1.2)*sin, -(x+2.2)*sin+(z-1.2)*cos
		return min(4.4-math.Abs(u), 3.7-math.Abs(v)) + 0.03*math.Sin(5*u)*math.Sin(4*v)
	}
	stand := []vec{{-1.75, 1.15, 1.25}, {0.62, -0.55, 0.85}, {-2.75, -1.75, 0.8}, {-4.55, -0.35, 0.95}, {0.55, 2.55, 0.5}, {1.55, 1.7, 0.5}, {-3.7, 2.5, 0.45}, {-0.5, 3.2, 0.75}}
	rest := func(x, z float64) float64 {
		r := 0.0
		for _, q := range stand {
			r = max(r, 1-ramp(math.Hypot(x-q.X, z-q.Y), q.Z, q.Z+0.55))
		}
		card := math.Max(math.Abs(x-1.95)-1.9, math.Abs(z-4.3)-0.35)
		return max(r, 1-ramp(card, 0, 0.5))
	}
	folds := []fold{
		{-4.4, 2.6, -62, 0.10, 0.58, 0.20, 2.8}, {-3.3, 3.4, -48, -0.07, 0.46, 0.17, 2.6},
		{-0.9, 3.1, 12, 0.08, 0.30, 0.15, 2.3}, {-2.0, 3.8, -14, 0.06, 0.50, 0.19, 2.8},
		{-0.6, 0.3, 58, -0.09, 0.26, 0.14, 1.9}, {1.6, 0.6, 40, 0.12, 0.34, 0.15, 1.8},
		{-3.4, 0.3, 70, 0.10, 0.28, 0.15, 1.7}, {-5.3, 1.2, -20, 0.10, 0.30, 0.16, 1.8},
		{1.9, 2.6, 78, 0.10, 0.24, 0.13, 1.4},
	}
	c := lay(vec{-8, -0.03, -4.2}, vec{4.6, 0, 5.3}, 0.02, folds, covered, rest)
	s.put(c, striped(turn), nil)
}

func (s *setting) orange(at vec, r, turn float64) {
	f := place(at, turn, 25, 10)
	s.put(&egg{f, vec{r, r * 0.95, r}}, orangeSkin(f), nil)
}

func (s *setting) apple(at vec, turn, tilt, red float64) {
	f := place(at, turn, tilt, 8)
	s.put(turned(f, knot{0, 0.10}, knot{0.14, 0.02}, knot{0.34, 0.04}, knot{0.52, 0.24}, knot{0.58, 0.52}, knot{0.50, 0.80},
		knot{0.30, 0.93}, knot{0.12, 0.88}, knot{0.03, 0.76}, knot{0, 0.74}), appleSkin(f, red), nil)
	stalk := place(f.point(vec{0.02, 0.93, 0}), turn, tilt-6, -14)
	s.put(&egg{stalk, vec{0.025, 0.20, 0.025}}, plain(bark, 0, 0), nil)
}

func (s *setting) lemon(at vec, turn, roll float64) {
	f := place(at, turn, 0, roll)
	s.put(turned(f, knot{0, -0.16}, knot{0.07, -0.12}, knot{0.13, 0.0}, knot{0.34, 0.17}, knot{0.44, 0.5}, knot{0.35, 0.83},
		knot{0.15, 1.0}, knot{0.09, 1.08}, knot{0, 1.12}), lemonSkin(f), nil)
}

func (s *setting) plum(at vec, turn, roll float64) {
	s.put(&egg{place(at, turn, 10, roll), vec{0.36, 0.43, 0.36}}, plumSkin, nil)
}

// basket is a round basket of willow, filled.
func (s *setting) basket(at vec) {
	f := place(at, 10, 0, 0)
	s.put(turned(f, knot{0, 0.02}, knot{0.9, 0.03}, knot{1.02, 0.06}, knot{1.18, 0.45}, knot{1.34, 0.82}, knot{1.42, 0.90},
		knot{1.36, 0.96}, knot{1.24, 0.88}, knot{1.08, 0.5}, knot{0.92, 0.16}, knot{0.5, 0.14}, knot{0, 0.14}), weave(f), nil)
	s.orange(at.add(vec{-0.55, 0.86, 0.42}), 0.56, 20)
	s.orange(at.add(vec{0.10, 0.80, -0.62}), 0.55, 130)
	s.apple(at.add(vec{0.58, 0.50, 0.34}), 40, 12, 0.06)
	s.apple(at.add(vec{-0.62, 0.60, -0.42}), 190, -14, 0.30)
	s.plum(at.add(vec{0.02, 0.92, 0.80}), 20, 60)
	s.plum(at.add(vec{0.84, 0.92, -0.32}), 70, 30)
	s.lemon(at.add(vec{-0.42, 1.38, -0.12}), 25, -78)
}

// looseFruit lies on the cloth in front.
func (s *setting) looseFruit() {
	s.lemon(vec{1.22, 0.47, 1.62}, -35, -86)
	s.apple(vec{0.52, 0.03, 2.55}, -40, 0, 0.16)
	s.plum(vec{-3.72, 0.40, 2.42}, 0, 75)
	s.plum(vec{2.25, 0.40, 2.45}, 30, 82)
	s.orange(vec{3.05, 0.53, 2.35}, 0.53, 200)
	r := random(77)
	var stones, stalks []*egg
	for i, c := range []vec{{-0.62, 0.21, 3.05}, {-0.26, 0.21, 3.18}, {-0.95, 0.21, 3.30}, {-0.5, 0.21, 3.42}, {1.35, 0.21, 2.95}, {1.62, 0.20, 3.08}} {
		stones = append(stones, &egg{place(c, 40*float64(i), 10, 0), vec{0.19, 0.175, 0.19}})
		stalks = append(stalks, twig(c.add(vec{0, 0.15, 0}), c.add(vec{r.between(-0.3, 0.3), 0.42, r.between(-0.55, -0.25)}), 0.016)...)
	}
	s.put(bunchOf(stones), plain(cherryPeel, 0.05, 0.02), nil)
	s.put(bunchOf(stalks), plain(leafGreen, 0, 0), nil)
}

// twig is a thin rod from a to b, as one slender ellipsoid.
func twig(a, b vec, r float64) []*egg {
	d := b.sub(a)
	v := d.unit()
	u, w := v.basis()
	return []*egg{{frame{a.add(b).mul(0.5), u, v, u.cross(v)}, vec{r, d.len()/2 + r, w.len() * r}}}
}

// carafe is thin clear glass with red cordial in it and a stopper.
func (s *setting) carafe(at vec) {
	f := place(at, 0, 0, 0)
	dim, dark := glass.scale(0.86), curve(func(nm float64) float64 { return 0.02 + 0.62*rise(nm, 592, 11) })
	wall := func(_, n vec, _ int) surface { return surface{film, glass, n, 0.04, 0} }
	s.put(turned(f, knot{0, 0}, knot{0.62, 0.01}, knot{0.78, 0.10}, knot{0.90, 0.55}, knot{0.86, 1.10}, knot{0.58, 1.75}, knot{0.30, 2.20},
		knot{0.24, 2.55}, knot{0.27, 2.85}, knot{0.40, 3.05}, knot{0.38, 3.08}, knot{0.38, 3.08}, knot{0, 3.06}), wall, &dim)
	s.put(turned(f, knot{0, 0.09}, knot{0.58, 0.09}, knot{0.73, 0.17}, knot{0.85, 0.56}, knot{0.81, 1.09}, knot{0.67, 1.48},
		knot{0.66, 1.50}, knot{0.66, 1.50}, knot{0.3, 1.49}, knot{0, 1.49}), func(_, n vec, _ int) surface { return surface{liquid, cordial, n, 0, 0} }, &dark)
	stop := place(at.add(vec{0, 3.12, 0}), 0, 0, 0)
	s.put(turned(stop, knot{0, -0.4}, knot{0.16, -0.38}, knot{0.20, 0}, knot{0.14, 0.08}, knot{0.30, 0.32}, knot{0.27, 0.5}, knot{0, 0.62}),
		func(_, n vec, _ int) surface { return surface{liquid, flat(0.05), n, 0, 0} }, &dim)
}

// vase holds bare twigs with berries and a few grey-green leaves.
func (s *setting) vase(at vec) {
	f := place(at, 30, 0, 0)
	s.put(turned(f, knot{0, 0}, knot{0.55, 0.01}, knot{0.66, 0.08}, knot{0.98, 0.9}, knot{1.12, 1.75}, knot{0.92, 2.45}, knot{0.52, 2.85}, knot{0.44, 3.05},
		knot{0.60, 3.28}, knot{0.57, 3.34}, knot{0.46, 3.26}, knot{0.34, 3.04}, knot{0.4, 2.8}, knot{0.3, 2.4}, knot{0, 2.4}), glaze(f, 3.3), nil)
	r := random(4)
	var wood, leaves, berries []*egg
	mouth := at.add(vec{0, 3.0, 0})
	for i := range 11 {
		p := mouth.add(vec{r.between(-0.2, 0.2), 0, r.between(-0.2, 0.2)})
		lean := -62 + 124*float64(i)/10 + r.between(-6, 6)
		sin, cos := math.Sincos(lean * math.Pi / 180)
		dir := vec{0.9 * sin, 1.15 * cos, r.between(-0.35, 0.45)}.unit()
		for j := range 7 {
			step := r.between(0.36, 0.50)
			q := p.along(step, dir)
			wood = append(wood, twig(p, q, 0.032-0.003*float64(j))...)
			dir = dir.add(vec{r.between(-0.30, 0.30), r.between(-0.28, 0.12), r.between(-0.25, 0.25)}).unit()
			if j > 0 {
				for range 2 {
					out := vec{r.between(-1, 1), r.between(-0.6, 0.8), r.between(-0.6, 1)}.unit()
					end := q.along(r.between(0.10, 0.2), out)
					if (i+j)%3 == 0 {
						wood = append(wood, twig(q, end, 0.012)...)
						berries = append(berries, ball(end, r.between(0.07, 0.105)))
					} else {
						leaf := twig(q, q.along(r.between(0.38, 0.6), out), 0.13)[0]
						leaf.R.Z = 0.018
						leaves = append(leaves, leaf)
					}
				}
			}
			p = q
		}
	}
	s.put(bunchOf(wood), plain(bark, 0, 0), nil)
	s.put(bunchOf(berries), plain(berry, 0.045, 0.03), nil)
	s.put(bunchOf(leaves), func(_, n vec, part int) surface {
		return surface{dull, mix(leafGreen, leafGrey, frac(float64(part)*0.618)), n, 0.03, 0.2}
	}, nil)
}

func (s *setting) copperPot(at vec) {
	f := place(at, 0, 0, 0)
	s.put(turned(f, knot{0, 0.02}, knot{0.72, 0.03}, knot{0.86, 0.16}, knot{0.98, 0.7}, knot{0.90, 1.2}, knot{0.74, 1.5}, knot{0.76, 1.62}, knot{0.86, 1.78}, knot{0.83, 1.82},
		knot{0.70, 1.62}, knot{0.68, 1.5}, knot{0.84, 1.15}, knot{0.9, 0.7}, knot{0.7, 0.2}, knot{0, 0.14}), hammered(f), nil)
}

func (s *setting) candle(at vec) {
	f := place(at, 0, 0, 0)
	s.put(turned(f, knot{0, 0}, knot{0.78, 0.0}, knot{0.82, 0.07}, knot{0.62, 0.17}, knot{0.28, 0.28}, knot{0.17, 0.50}, knot{0.27, 0.68}, knot{0.15, 0.86}, knot{0.12, 1.4}, knot{0.24, 1.62},
		knot{0.13, 1.80}, knot{0.16, 2.0}, knot{0.46, 2.12}, knot{0.46, 2.18}, knot{0.24, 2.18}, knot{0.24, 2.5}, knot{0.24, 2.5}, knot{0, 2.5}), turnedBrass, nil)
	s.put(turned(f, knot{0, 2.4}, knot{0.18, 2.4}, knot{0.18, 2.4}, knot{0.18, 4.0}, knot{0.17, 4.1}, knot{0.08, 4.08}, knot{0, 4.02}), plain(wax, 0.03, 0.2), nil)
	s.put(bunchOf(twig(at.add(vec{0, 4.0, 0}), at.add(vec{0.05, 4.26, 0}), 0.018)), plain(flat(0.03), 0, 0), nil)
}

// headAndBooks stands at the right.
func (s *setting) headAndBooks() {
	low := &block{place(vec{2.75, 0.27, -1.0}, 17, 0, 0), vec{1.45, 0.27, 1.12}}
	s.put(low, bookCloth(low, deepBlue.scale(0.9)), nil)
	high := &block{place(vec{2.70, 0.76, -1.05}, 6, 0, 0), vec{1.30, 0.21, 1.0}}
	s.put(high, bookCloth(high, mix(leafGreen, walnut, 0.3)), nil)
	head := plaster()
	s.put(head, head.paint, nil)
}

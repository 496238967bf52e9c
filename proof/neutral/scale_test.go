package neutral

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/density"
	"threeply/proof/overlay"
	"threeply/proof/plane"
)

// card is a grey scale that lies in an invented scene: n steps of step in
// density from 0.05 on, each wide × high pixels, on white card, turned clockwise
// about its middle; the light falls off along it by falloff in density.
type card struct {
	n                int
	step             float64
	cx, cy           float64
	wide, high, turn float64
	falloff          float64
}

// at is the log10 exposure of the scene at a pixel of the key.
func (c card) at(x, y float64) float64 {
	sin, cos := math.Sincos(c.turn * math.Pi / 180)
	u, v := (x-c.cx)*cos+(y-c.cy)*sin, -(x-c.cx)*sin+(y-c.cy)*cos
	along := u/c.wide + float64(c.n)/2
	fall := -c.falloff * along / float64(c.n)
	switch {
	case math.Abs(v) > c.high*0.75 || along < -0.4 || along > float64(c.n)+0.4:
		return -0.5 + 0.35*math.Sin(x/23)*math.Cos(y/31) + 0.2*math.Sin(x/7+y/5) // cloth with a pattern
	case math.Abs(v) > c.high/2 || along < 0 || along >= float64(c.n):
		return -0.10 + fall
	}
	return -0.05 - c.step*math.Floor(along) + fall
}

func (c card) place(i int) (x, y float64) {
	sin, cos := math.Sincos(c.turn * math.Pi / 180)
	u := (float64(i) + 0.5 - float64(c.n)/2) * c.wide
	return c.cx + u*cos, c.cy + u*sin
}

// photographed is the card on three films, moved, with grain and soft edges.
func photographed(c card, w, h int, films [3]emulsion, seed uint64) *overlay.Plates {
	rnd := rand.New(rand.NewPCG(seed, 1))
	shift := [3][2]float64{{4.3, -2.6}, {0, 0}, {-5.2, 3.4}}
	p := &overlay.Plates{Key: 1}
	for i, e := range films {
		dx, dy := shift[i][0], shift[i][1]
		p.Ways[i] = func(x, y float64) (float64, float64) { return x + dx, y + dy }
		q := plane.New(w, h)
		for y := range h {
			for x := range w {
				sum := 0.0
				for _, o := range [2]float64{-0.6, 0.6} {
					sum += math.Pow(10, c.at(float64(x)-dx+o, float64(y)-dy+o)) / 2
				}
				d := e.density(math.Log10(sum)) + 0.01*rnd.NormFloat64()
				q.Pix[y*w+x] = density.Code(d)
			}
		}
		p.Planes[i] = q
	}
	return p
}

var unequal = [3]emulsion{{0.29, 0.92, 0.15, 0.3, false}, {0.26, 0.79, 0.15, 0, false}, {0.33, 0.70, 0.15, -0.3, false}}

// The steps of a scale are found however it is turned, wherever the line begins
// and ends near it, and lie where they were put.
func TestAlongFindsTheStepsHoweverTurned(t *testing.T) {
	for _, turn := range []float64{0, 17, -100} {
		c := card{n: 10, step: 0.12, cx: 250, cy: 250, wide: 32, high: 40, turn: turn, falloff: 0.08}
		p := photographed(c, 500, 500, unequal, 3)
		for name, ends := range map[string][2]float64{"middle to middle": {0, 9}, "edge to edge": {-0.45, 9.45}, "beyond": {-1.2, 10.2}} {
			x0, y0 := c.place(0)
			x1, y1 := c.place(9)
			ux, uy := (x1-x0)/9, (y1-y0)/9
			for _, back := range []bool{false, true} {
				ax, ay, bx, by := x0+ends[0]*ux, y0+ends[0]*uy, x0+ends[1]*ux, y0+ends[1]*uy
				if back {
					ax, ay, bx, by = bx, by, ax, ay
				}
				s, err := Along(p, ax, ay, bx, by)
				if err != nil {
					t.Errorf("turned %g, %s: %v", turn, name, err)
					continue
				}
				if len(s.Steps) != 10 {
					t.Errorf("turned %g, %s, back %v: %d steps", turn, name, back, len(s.Steps))
					continue
				}
				for i, g := range s.Steps {
					if back {
						i = 9 - i
					}
					x, y := c.place(i)
					if math.Hypot(g.X-x, g.Y-y) > 0.3*c.wide {
						t.Errorf("turned %g, %s: step %d lies at %.0f,%.0f, not %.0f,%.0f", turn, name, i, g.X, g.Y, x, y)
					}
					for k, e := range unequal {
						if want := e.density(c.at(x, y)); math.Abs(g.Density[k]-want) > 0.02 {
							t.Errorf("turned %g, %s: step %d has %.3f on plate %d, want %.3f", turn, name, i, g.Density[k], k, want)
						}
					}
				}
			}
		}
	}
}

// A scan that clips its blue plate's lightest steps keeps them in the scale;
// there the other two still part them.
func TestAlongWithClippedEnds(t *testing.T) {
	c := card{n: 10, step: 0.15, cx: 250, cy: 150, wide: 40, high: 40, turn: -8}
	p := photographed(c, 500, 300, unequal, 5)
	for i, code := range p.Planes[2].Pix { // the scanner sees no density above 1.1
		if code > density.Code(1.1) {
			p.Planes[2].Pix[i] = 65535
		}
	}
	x0, y0 := c.place(0)
	x1, y1 := c.place(9)
	s, err := Along(p, x0, y0, x1, y1)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Steps) != 10 || !s.Steps[0].Clipped[2] || s.Steps[0].Clipped[1] || s.Steps[9].Clipped[2] {
		t.Fatalf("%d steps, the first %+v", len(s.Steps), s.Steps[0])
	}
	known := knownOf(unequal)
	m, err := Fit(s.Steps, known)
	if err != nil {
		t.Fatal(err)
	}
	if m.Plates[2].Clipped == 0 || m.Plates[2].Remedy() != Beyond {
		t.Errorf("%+v", m.Plates[2])
	}
	for i := 5; i < 9; i++ {
		g := s.Steps[i]
		if off := math.Abs(m.Films[2].LogExposure(g.Density[2]) - m.Films[1].LogExposure(g.Density[1])); off > 0.01 {
			t.Errorf("step %d: log exposures part by %.3f", i, off)
		}
	}
}

func TestAlongRefusesWhatIsNoScale(t *testing.T) {
	c := card{n: 10, step: 0.12, cx: 250, cy: 250, wide: 32, high: 40}
	p := photographed(c, 500, 500, unequal, 7)
	for _, line := range [][4]float64{{20, 20, 480, 60}, {30, 400, 470, 430}, {100, 100, 101, 101}, {250, 20, 250, 180}} {
		if s, err := Along(p, line[0], line[1], line[2], line[3]); err == nil {
			t.Errorf("%v: %d steps in a cloth", line, len(s.Steps))
		}
	}
	if _, err := Along(p, -5, 20, 100, 20); err == nil || err == ErrNoScale {
		t.Errorf("off the picture: %v", err)
	}
}

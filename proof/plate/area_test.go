package plate

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

func areaOf(p *plane.Plane) [4]int {
	area, _ := tonesOf(p).pictureArea(p.W, p.H)
	return area
}

func TestAreaInsideFrames(t *testing.T) {
	positive := sceneCodes(700, 560, 1)
	negative := filmed(positive, 0.75, 0.25, 1.9)
	for _, c := range []struct {
		name    string
		p       *plane.Plane
		density float64
	}{
		{"positive in a black frame", positive, 3.2},
		{"negative in a clear rebate", negative, 0.25},
		{"negative in a black mask", negative, 3.5},
		{"positive on a white ground", positive, 0.01},
	} {
		for _, b := range [][4]int{{30, 40, 50, 60}, {100, 80, 40, 100}, {0, 50, 0, 50}} {
			p := framed(c.p, b[0], b[1], b[2], b[3], c.density)
			area := areaOf(p)
			want := [4]int{b[0], b[1], b[0] + c.p.W, b[1] + c.p.H}
			for i := range want {
				inside := float64(area[i] - want[i])
				if i >= 2 {
					inside = -inside
				}
				if inside < 0 || inside > 0.035*float64(max(p.W, p.H)) {
					t.Errorf("%s %v: area %v, want just inside %v", c.name, b, area, want)
					break
				}
			}
		}
	}
}

func TestAreaWithoutBorders(t *testing.T) {
	for seed := range uint64(5) {
		p := sceneCodes(600, 500, seed)
		if area := areaOf(p); area != [4]int{0, 0, 600, 500} {
			t.Errorf("seed %d: area %v of a picture without borders", seed, area)
		}
	}
	for _, p := range []*plane.Plane{plane.New(1, 1), plane.New(3, 900), plane.New(500, 400)} {
		if area := areaOf(p); area != [4]int{0, 0, p.W, p.H} {
			t.Errorf("%d × %d, all one tone: area %v", p.W, p.H, area)
		}
	}
}

// A frame that lies askew by a degree still bounds the picture.
func TestAreaInsideATurnedFrame(t *testing.T) {
	const left, top, margin = 60, 50, 0.035
	p := framed(sceneCodes(700, 560, 2), left, top, 60, 50, 3.2)
	turn := affine.Matrix{math.Cos(math.Pi / 180), -math.Sin(math.Pi / 180), 0, math.Sin(math.Pi / 180), math.Cos(math.Pi / 180), 0}
	turn = turn.About(float64(p.W)/2, float64(p.H)/2)
	turned := plane.New(p.W, p.H)
	for y := range p.H {
		for x := range p.W {
			turned.Pix[y*p.W+x] = uint16(p.Bilinear(turn.Apply(float64(x), float64(y))))
		}
	}
	area := areaOf(turned)
	slack := margin*float64(p.W) + math.Sin(math.Pi/180)*float64(p.W)/2
	for i, want := range [4]int{left, top, left + 700, top + 560} {
		if math.Abs(float64(area[i]-want)) > slack {
			t.Errorf("area %v", area)
		}
	}
}

// The 24 real plates have borders of 2 to 12 % on at least three sides of each
// exposure; the figures are from looking at them. They are positives; film
// makes them the negatives that a museum holds.
func TestAreaOfRealPlates(t *testing.T) {
	sane, sets := map[string]int{}, shared(t, "plates")
	for _, file := range sets {
		set := openFile(t, file, Options{})
		for i, s := range set.Sources {
			small := set.Density[i]
			areas := map[string][4]float64{
				"positive": cuts(s.Area, s.W, s.H),
				"negative": cuts(areaOf(filmed(small, 0.75, 0.25, 1.9)), small.W, small.H),
			}
			for kind, c := range areas {
				bordered, ok := 0, true
				for _, share := range c {
					if share > 0.02 {
						bordered++
					}
					ok = ok && share < 0.13
				}
				if ok && bordered >= 3 {
					sane[kind]++
				} else {
					t.Logf("%s, %s: cuts %.3f", s.Name, kind, c)
				}
			}
		}
	}
	for _, kind := range []string{"positive", "negative"} {
		t.Logf("%s: %d of %d exposures have a sane picture area", kind, sane[kind], 3*len(sets))
		if float64(sane[kind]) < 0.95*float64(3*len(sets)) {
			t.Errorf("%s: only %d of %d", kind, sane[kind], 3*len(sets))
		}
	}
}

// cuts gives the shares of the sides that an area leaves out.
func cuts(area [4]int, w, h int) [4]float64 {
	return [4]float64{float64(area[0]) / float64(w), float64(area[1]) / float64(h), 1 - float64(area[2])/float64(w), 1 - float64(area[3])/float64(h)}
}

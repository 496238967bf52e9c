package plate

import (
	"math"
	"testing"

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

// The 24 real plates have borders of 2 to 12 % on at least three sides of each
// exposure; the figures are from looking at them.
func TestAreaOfRealPlates(t *testing.T) {
	sane, n := 0, 0
	for _, file := range shared(t, "plates") {
		set := openFile(t, file, Options{})
		for _, s := range set.Sources {
			w, h := float64(s.W), float64(s.H)
			cuts := [4]float64{float64(s.Area[0]) / w, float64(s.Area[1]) / h, 1 - float64(s.Area[2])/w, 1 - float64(s.Area[3])/h}
			bordered, ok := 0, true
			for _, c := range cuts {
				if c > 0.02 {
					bordered++
				}
				ok = ok && c < 0.13
			}
			n++
			if ok && bordered >= 3 {
				sane++
			} else {
				t.Logf("%s: cuts %.3f", s.Name, cuts)
			}
		}
	}
	t.Logf("%d of %d exposures have a sane picture area", sane, n)
	if float64(sane) < math.Ceil(0.95*float64(n)) {
		t.Errorf("only %d of %d", sane, n)
	}
}

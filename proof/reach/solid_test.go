package reach

import (
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

func made(t testing.TB, id string) (stack.Recipe, *cube.Cube, spectrum.Light) {
	t.Helper()
	p, ok := pigment.PaletteByID(id)
	if !ok {
		t.Fatalf("no palette %s", id)
	}
	r, light := stack.DefaultRecipe(p), spectrum.Lights()[0]
	return r, cube.New(r, light, 33), light
}

// box is a cube whose Lab is a box of known size.
func box(l, a, b float32) *cube.Cube {
	const n = 17
	c := &cube.Cube{N: n, Max: cube.Max, White: spectrum.XYZ{96.4, 100, 82.5}}
	for i := range n {
		for j := range n {
			for k := range n {
				f := func(i int) float32 { return float32(i) / (n - 1) }
				c.Lab = append(c.Lab, 20+l*f(i), a*(f(j)-0.5), b*(f(k)-0.5))
			}
		}
	}
	return c
}

func TestBox(t *testing.T) {
	s := New(box(60, 40, 30), cube.Max)
	if v := s.Volume(); !(math.Abs(v-60*40*30) < 1) {
		t.Errorf("volume %v, want %v", v, 60*40*30)
	}
	o := s.Outline(8)
	for i, want := range []float64{20, 15 * math.Sqrt2, 15, 15 * math.Sqrt2, 20, 15 * math.Sqrt2, 15, 15 * math.Sqrt2} {
		if !(math.Abs(o[i]-want) < 0.01) {
			t.Errorf("hue %d: chroma %v, want %v", 45*i, o[i], want)
		}
	}
}

// bent is a cube whose Lab is a function of the three coordinates 0 … 1, which stand for
// equal steps of lightness, of chroma and of hue.
func bent(f func(u, v, w float64) spectrum.Lab) *cube.Cube {
	const n = 33
	c := &cube.Cube{N: n, Max: cube.Max, White: spectrum.XYZ{96.4, 100, 82.5}}
	for i := range n {
		for j := range n {
			for k := range n {
				l := f(float64(i)/(n-1), float64(j)/(n-1), float64(k)/(n-1))
				c.Lab = append(c.Lab, float32(l[0]), float32(l[1]), float32(l[2]))
			}
		}
	}
	return c
}

// Solids whose volume any table of formulas gives: a box pushed askew, three quarters of
// a ring, which is not convex, an eighth of a ball, and an eighth of a box for half the
// way of each amount.
func TestVolumeOfKnownSolids(t *testing.T) {
	ring := func(u, v, w float64) spectrum.Lab {
		sin, cos := math.Sincos(1.5 * math.Pi * w)
		return spectrum.Lab{20 + 60*u, (10 + 30*v) * cos, (10 + 30*v) * sin}
	}
	ball := func(u, v, w float64) spectrum.Lab {
		sinV, cosV := math.Sincos(math.Pi / 2 * v)
		sinW, cosW := math.Sincos(math.Pi / 2 * w)
		return spectrum.Lab{20 + 50*u*cosV, 50 * u * sinV * cosW, 50 * u * sinV * sinW}
	}
	askew := func(u, v, w float64) spectrum.Lab {
		return spectrum.Lab{20 + 50*u + 10*v, 40*v - 30*w + 5*u, 60 * w}
	}
	for name, c := range map[string]struct {
		cube  *cube.Cube
		limit float64
		want  float64
	}{
		"a box askew":              {bent(askew), cube.Max, 50*40*60 + 10*(-5*60)},
		"three quarters of a ring": {bent(ring), cube.Max, 60 * 0.75 * math.Pi * (40*40 - 10*10)},
		"an eighth of a ball":      {bent(ball), cube.Max, math.Pi / 6 * 50 * 50 * 50},
		"an eighth of a box":       {box(60, 40, 30), cube.Thickness(0.5), 60 * 40 * 30 / 8},
	} {
		got := New(c.cube, c.limit).Volume()
		t.Logf("%s: %.0f, want %.0f", name, got, c.want)
		if !(math.Abs(got/c.want-1) < 0.01) { // flat triangles lie within a round skin
			t.Errorf("%s: volume %.0f, want %.0f", name, got, c.want)
		}
	}
}

// The slow, obvious way to the volume of a palette's colours, without skin and without
// cube: amounts in small cells, each cell cut into six tetrahedra of what the stack
// itself prints there, and their volumes added.
func TestVolumeOfPalettesAgainstCells(t *testing.T) {
	const n = 24
	for _, id := range []string{"arylide", "gamboge"} {
		r, c, light := made(t, id)
		lab := make([]spectrum.Lab, 0, (n+1)*(n+1)*(n+1))
		for i := range n + 1 {
			for j := range n + 1 {
				for k := range n + 1 {
					amount := func(i int) float64 { return math.Pow(float64(i)/n, 2) } // finer where colours change fast
					lab = append(lab, light.Lab(r.Reflectance([3]float64{amount(i), amount(j), amount(k)})))
				}
			}
		}
		steps := [3]int{(n + 1) * (n + 1), n + 1, 1}
		want := 0.0
		for i := range n {
			for j := range n {
				for k := range n {
					o := i*steps[0] + j*steps[1] + k
					for _, way := range [][3]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {0, 2, 1}, {2, 1, 0}, {1, 0, 2}} {
						a := o + steps[way[0]]
						b := a + steps[way[1]]
						e := b + steps[way[2]]
						v := volume(lab[o], lab[a], lab[b], lab[e])
						if way[1] != (way[0]+1)%3 { // these three turn the other way
							v = -v
						}
						want += v
					}
				}
			}
		}
		got := New(c, 1).Volume()
		t.Logf("%s: %.0f, by cells %.0f", id, got, math.Abs(want))
		if !(math.Abs(got/math.Abs(want)-1) < 0.01) {
			t.Errorf("%s: volume %.0f, by cells %.0f", id, got, math.Abs(want))
		}
	}
}

// volume is that of the tetrahedron of four corners, with its sign.
func volume(o, a, b, c spectrum.Lab) float64 {
	for i := range o {
		a[i], b[i], c[i] = a[i]-o[i], b[i]-o[i], c[i]-o[i]
	}
	return (a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])) / 6
}

func TestModernReachesFarther(t *testing.T) {
	_, a, _ := made(t, "arylide")
	_, b, _ := made(t, "gamboge")
	modern, historic := New(a, 1).Volume(), New(b, 1).Volume()
	t.Logf("volume: modern %.0f, historic %.0f", modern, historic)
	if !(modern > 1.3*historic) {
		t.Error("clear modern pigments must reach farther (common practice)")
	}
}

// What the exact stack prints is within reach, to one CIEDE2000; what it misses is
// not, but for what the doc comment of Shell owns to.
func TestShellAgainstInverse(t *testing.T) {
	rnd := rand.New(rand.NewPCG(15, 16))
	for _, p := range pigment.Palettes() {
		for _, limit := range []float64{balance.DefaultLimit, 1} {
			r, c, light := made(t, p.ID)
			shell := New(c, limit).Shell(balance.Neutral(r, light, limit))
			layers, worst := r.Layers(), 0.0
			for range 2000 {
				a := [3]float64{limit * rnd.Float64(), limit * rnd.Float64(), limit * rnd.Float64()}
				l := light.Lab(layers.Reflectance(a))
				miss := shell.Miss(l)
				worst = max(worst, miss)
				if !(miss <= 1) {
					t.Errorf("%s: %.2f prints %.1f, said to be %.2f out of reach", p.ID, a, l, miss)
				}
			}
			passed, far := 0, 0.0
			for range 200 {
				l := spectrum.Lab{10 + 85*rnd.Float64(), -100 + 200*rnd.Float64(), -100 + 200*rnd.Float64()}
				x, _ := balance.Near(c, l, math.Inf(1))
				for j := range x {
					x[j] = min(x[j], limit)
				}
				dE := spectrum.DeltaE00(light.Lab(layers.Reflectance(x)), l)
				if shell.Miss(l) == 0 {
					passed++
					far = max(far, dE)
				}
				if miss := shell.Miss(l); dE > 4 && miss <= 1 {
					t.Errorf("%s: %.1f is %.1f off at best, yet said to be out of reach by %.2f", p.ID, l, dE, miss)
				}
			}
			t.Logf("%s up to %.1f: what is printed is called out of reach by at most %.2f; what passes is off by at most %.2f", p.ID, limit, worst, far)
		}
	}
}

func TestNeutralsAreWithinReach(t *testing.T) {
	r, c, light := made(t, "earth")
	scale := balance.Neutral(r, light, 1)
	shell := New(c, 1).Shell(scale)
	for i, x := range scale.T {
		if over := shell.Beyond(light.Lab(r.Reflectance(x))); !(over < 0.5) {
			t.Errorf("tone %d of the grey scale is %.2f beyond", i, over)
		}
	}
	for _, l := range []spectrum.Lab{{0, 0, 0}, {100, 0, 0}, {50, 100, 0}} {
		if !(shell.Beyond(l) > 1) {
			t.Errorf("%v passes for printable", l)
		}
	}
	if s := shell.Slice(725); len(s) != Levels || s[0] != -1 || !(s[100] > 20) {
		t.Errorf("slice %v", s)
	}
}

func BenchmarkShell(b *testing.B) {
	r, c, light := made(b, "earth")
	scale := balance.Neutral(r, light, 1)
	for b.Loop() {
		New(c, 1).Shell(scale)
	}
}

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

// The slow, obvious way: throw amounts and count the boxes of 3 units that are
// hit.
func TestVolumeAgainstCounting(t *testing.T) {
	for _, id := range []string{"arylide", "gamboge"} {
		_, c, _ := made(t, id)
		rnd := rand.New(rand.NewPCG(13, 14))
		hit := map[[3]int]bool{}
		for range 600000 {
			l := c.At([3]float64{rnd.Float64(), math.Pow(rnd.Float64(), 2), math.Pow(rnd.Float64(), 2)})
			hit[[3]int{int(math.Floor(l[0] / 3)), int(math.Floor(l[1] / 3)), int(math.Floor(l[2] / 3))}] = true
		}
		got, want := New(c, 1).Volume(), 27*float64(len(hit))
		t.Logf("%s: volume %.0f, boxes hit %.0f", id, got, want)
		// Boxes on the skin count whole, so counting sees more.
		if !(got < want && got > 0.6*want) {
			t.Errorf("%s: volume %.0f, boxes %.0f", id, got, want)
		}
	}
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

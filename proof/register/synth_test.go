package register

import (
	"context"
	"fmt"
	"image"
	"image/draw"
	"maps"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
)

// scene is a colour picture in linear light, from which plates with a known
// map are drawn.
type scene struct {
	name string
	w, h int
	rgb  [3][]float32
}

// photo reads a shared photograph, every by × by of its pixels as one.
func photo(t testing.TB, name string, by int) *scene {
	t.Helper()
	img := shown(t, filepath.Join(shared, "photos", name))
	b, plain := img.Bounds(), inBytes(img, img.Bounds())
	s := &scene{name: name, w: b.Dx() / by, h: b.Dy() / by}
	var linear [256]float32
	for i := range linear {
		linear[i] = float32(math.Pow((float64(i)/255+0.055)/1.055, 2.4))
	}
	for c := range s.rgb {
		s.rgb[c] = make([]float32, s.w*s.h)
	}
	share := 1 / float32(by*by)
	for y := range s.h * by {
		row := plain.Pix[y*plain.Stride:]
		for c := range s.rgb {
			out := s.rgb[c][y/by*s.w : (y/by+1)*s.w]
			for x := range out {
				for k := range by {
					out[x] += share * linear[row[4*(x*by+k)+c]]
				}
			}
		}
	}
	return s
}

// inBytes is part of a picture as bytes, four a pixel, which are read faster than its colours.
func inBytes(img image.Image, part image.Rectangle) *image.RGBA {
	out := image.NewRGBA(image.Rectangle{Max: part.Size()})
	draw.Draw(out, out.Rect, img, part.Min, draw.Src)
	return out
}

// drawn is an invented scene for machines without the photographs: many
// coloured discs and bars over soft ground. Tests share what was drawn, and do not change
// it.
func drawn(w, h int, seed uint64) *scene {
	once := sync.OnceValue(func() *scene { return drawScene(w, h, seed) })
	shared, _ := scenes.LoadOrStore([3]int{w, h, int(seed)}, once)
	return shared.(func() *scene)()
}

var scenes sync.Map // of functions that draw once

func drawScene(w, h int, seed uint64) *scene {
	rnd := rand.New(rand.NewPCG(seed, 7))
	s := &scene{name: "drawn", w: w, h: h}
	for c := range s.rgb {
		s.rgb[c] = make([]float32, w*h)
		for i := range s.rgb[c] {
			s.rgb[c][i] = float32(0.2 + 0.1*math.Sin(float64(i%w)/90+float64(c))*math.Cos(float64(i/w)/70))
		}
	}
	for range w * h / 1500 {
		cx, cy, r := rnd.Float64()*float64(w), rnd.Float64()*float64(h), 3+rnd.ExpFloat64()*14
		flat := 0.2 + rnd.Float64()
		sin, cos := math.Sincos(rnd.Float64() * math.Pi)
		var ink [3]float32
		for c := range ink {
			ink[c] = float32(0.02 + 0.9*rnd.Float64()*rnd.Float64())
		}
		for y := max(int(cy-r/flat), 0); y < min(int(cy+r/flat)+1, h); y++ {
			for x := max(int(cx-r/flat), 0); x < min(int(cx+r/flat)+1, w); x++ {
				u, v := float64(x)-cx, float64(y)-cy
				u, v = u*cos+v*sin, (v*cos-u*sin)/flat
				if u*u+v*v < r*r {
					for c := range ink {
						s.rgb[c][y*w+x] = ink[c]
					}
				}
			}
		}
	}
	return s
}

// shot says how one plate of a scene is made.
type shot struct {
	mix      [3]float64 // of red, green and blue light
	gamma    float64
	negative bool
	blur     float64 // σ, plate pixels
	noise    float64 // standard deviation of the density
	dust     int
	border   float64 // share of a side that is black
	m        affine.Matrix
	bend     func(x, y float64) (dx, dy float64) // by how far the film has moved what it shows at a pixel; nil for nowhere
}

// shoot draws a plate of w × h pixels whose pixel (x, y) shows the scene at
// m⁻¹(x, y), in pixels of the key, which are reduce pixels of the scene.
func (s *scene) shoot(w, h int, reduce float64, k shot, seed uint64) *plane.Plane {
	rnd := rand.New(rand.NewPCG(seed, 11))
	light := s.mixed(k.mix)
	inv, ok := k.m.Inverse()
	if !ok {
		panic("the map of a shot must have an inverse")
	}
	d, o := reduce, (reduce-1)/2
	to := affine.Matrix{d, 0, o, 0, d, o}.Mul(inv)
	const sub = 2 // places a pixel each way
	exposure := newTones(w, h)
	for y := range h {
		for x := range w {
			var sum float32
			for j := range sub {
				for i := range sub {
					px, py := float64(x)+(float64(i)-0.5)/sub, float64(y)+(float64(j)-0.5)/sub
					if k.bend != nil {
						dx, dy := k.bend(px, py)
						px, py = px-dx, py-dy
					}
					px, py = to.Apply(px, py)
					sum += interpolated(light, s.w, s.h, px, py)
				}
			}
			exposure.v[y*w+x] = sum / (sub * sub)
		}
	}
	gaussian(exposure, k.blur)
	out := plane.New(w, h)
	var specks [][3]float64
	for range k.dust {
		specks = append(specks, [3]float64{rnd.Float64() * float64(w), rnd.Float64() * float64(h), 1 + rnd.ExpFloat64()*2})
	}
	for i, v := range exposure.v {
		x, y := i%w, i/w
		scene := k.gamma * math.Log10(max(float64(v), 0.002))
		density := -scene
		if k.negative {
			density = 0.25 + k.gamma*2.7 + scene
		}
		if b := k.border; b > 0 {
			fx, fy := float64(x)/float64(w), float64(y)/float64(h)
			if fx < b || fx > 1-b*0.8 || fy < b*0.7 || fy > 1-b {
				density = 2.6
			}
		}
		out.Pix[i] = uint16(math.Round(min(max(density+rnd.NormFloat64()*k.noise, 0), 4) / 4 * 65535))
	}
	for _, p := range specks {
		for y := max(int(p[1]-p[2]), 0); y < min(int(p[1]+p[2])+1, h); y++ {
			for x := max(int(p[0]-p[2]), 0); x < min(int(p[0]+p[2])+1, w); x++ {
				if math.Hypot(float64(x)-p[0], float64(y)-p[1]) < p[2] {
					out.Pix[y*w+x] = 40000
				}
			}
		}
	}
	return out
}

// mixed is a mixture of a scene's red, green and blue light.
func (s *scene) mixed(mix [3]float64) []float32 {
	light := make([]float32, s.w*s.h)
	for i := range light {
		light[i] = float32(mix[0])*s.rgb[0][i] + float32(mix[1])*s.rgb[1][i] + float32(mix[2])*s.rgb[2][i]
	}
	return light
}

func interpolated(v []float32, w, h int, x, y float64) float32 {
	x, y = min(max(x, 0), float64(w-1)), min(max(y, 0), float64(h-1))
	x0, y0 := min(int(x), w-2), min(int(y), h-2)
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	r, q := v[y0*w+x0:], v[(y0+1)*w+x0:]
	return (r[0]*(1-fx)+r[1]*fx)*(1-fy) + (q[0]*(1-fx)+q[1]*fx)*fy
}

func gaussian(p tones, sigma float64) {
	if sigma <= 0 {
		return
	}
	r := int(3*sigma) + 1
	kernel := make([]float32, 2*r+1)
	var sum float32
	for i := range kernel {
		kernel[i] = float32(math.Exp(-0.5 * math.Pow(float64(i-r)/sigma, 2)))
		sum += kernel[i]
	}
	pass := func(n, start, step int) {
		line := make([]float32, n)
		for i := range n {
			var s float32
			for k, c := range kernel {
				s += c * p.v[start+min(max(i+k-r, 0), n-1)*step]
			}
			line[i] = s / sum
		}
		for i, v := range line {
			p.v[start+i*step] = v
		}
	}
	for y := range p.h {
		pass(p.w, y*p.w, 1)
	}
	for x := range p.w {
		pass(p.h, x, p.w)
	}
}

// errorsOf gives the root mean square and the largest distance between two
// maps over a picture.
func errorsOf(got, want affine.Matrix, w, h int) (rms, worst float64) {
	const n = 20
	var sum float64
	for j := range n + 1 {
		for i := range n + 1 {
			x, y := float64(w-1)*float64(i)/n, float64(h-1)*float64(j)/n
			ax, ay := got.Apply(x, y)
			bx, by := want.Apply(x, y)
			d := math.Hypot(ax-bx, ay-by)
			sum += d * d
			worst = max(worst, d)
		}
	}
	return math.Sqrt(sum / ((n + 1) * (n + 1))), worst
}

// about is a map near the identity, taken about a picture's centre.
func about(w, h int, p affine.Parts) affine.Matrix {
	return affine.Compose(p, float64(w-1)/2, float64(h-1)/2)
}

// photos and by how much each is reduced before plates are made of it, for 1 to 2
// megapixels: whole pixels first, and that again.
var photos = map[string][2]float64{
	"seeding_by_Clements_Engelhardt.jpg": {2, 1.5}, "Wine_by_Jakkub_Mede.jpg": {2, 1.5}, "Picture_0B_by_freespace.jpg": {1, 2},
}

// TestKnownMaps draws plates from photographs with maps that are known
// exactly. The plates are made from one and the same mixture of light through
// different tones, since a camera's own channels are not in register.
func TestKnownMaps(t *testing.T) {
	t.Parallel()
	var all []float64
	for _, name := range slices.Sorted(maps.Keys(photos)) {
		s, reduce := photo(t, name, int(photos[name][0])), photos[name][1]
		w, h := int(float64(s.w)/reduce), int(float64(s.h)/reduce)
		mix := [3]float64{0.3, 0.5, 0.2}
		maps := map[int]affine.Matrix{
			0: about(w, h, affine.Parts{DX: 13.37, DY: -7.81, Turn: 0.31, StretchX: 1.0042, StretchY: 1.0031}),
			2: about(w, h, affine.Parts{DX: -41.2, DY: 22.6, Turn: -1.17, StretchX: 0.9963, StretchY: 1.0008, Shear: 0.0015}),
		}
		got, err := Planes(context.Background(), [3]*plane.Plane{
			s.shoot(w, h, reduce, shot{mix: mix, gamma: 0.75, negative: true, blur: 0.9, noise: 0.012, dust: 60, border: 0.05, m: maps[0]}, 1),
			s.shoot(w, h, reduce, shot{mix: mix, gamma: 0.9, noise: 0.01, dust: 40, border: 0.04, m: affine.Identity}, 2),
			s.shoot(w, h, reduce, shot{mix: mix, gamma: 0.6, blur: 0.4, noise: 0.02, dust: 60, border: 0.06, m: maps[2]}, 3),
		}, Options{Key: 1, Polarity: [3]bool{0: true}})
		if err != nil {
			t.Fatal(err)
		}
		for c, want := range maps {
			rms, worst := errorsOf(got[c].Matrix, want, w, h)
			all = append(all, rms)
			t.Logf("%s plate %d: rms %.3f worst %.3f px, confidence %.2f, residual %.2f %.2f %.2f; %s", name, c, rms, worst, got[c].Confidence, got[c].Residual.Median, got[c].Residual.P95, got[c].Residual.Max, got[c].Outcome)
			if worst > 0.10 {
				t.Errorf("%s plate %d: rms %.3f, worst %.3f px", name, c, rms, worst)
			}
		}
		if strings.HasPrefix(name, "seeding") {
			t.Run("a quarter moved", func(t *testing.T) { movedQuarterIsNoBend(t, s) })
		}
	}
	slices.Sort(all)
	t.Logf("rms of %d plates: median %.3f, largest %.3f px", len(all), all[len(all)/2], all[len(all)-1])
	if all[len(all)/2] > 0.02 {
		t.Errorf("half of the plates lie %.3f px off or more", all[len(all)/2])
	}
}

func TestAnyPose(t *testing.T) {
	t.Parallel()
	anyPose(t, drawn(900, 680, 3), 2)
}

func TestAnyPoseOfPhotographs(t *testing.T) {
	t.Parallel()
	anyPose(t, photo(t, "astronaut.png", 1), 1, 1, 4, 8)
}

// anyPose registers a scene's plates that lie anyhow: all ways, or only some.
func anyPose(t *testing.T, s *scene, reduce float64, only ...int) {
	t.Helper()
	w, h := int(float64(s.w)/reduce), int(float64(s.h)/reduce)
	key := s.shoot(w, h, reduce, shot{mix: [3]float64{0.2, 0.7, 0.1}, gamma: 0.8, negative: true, noise: 0.01, border: 0.04, m: affine.Identity}, 1)
	third := float64(w) / 3
	type posed struct {
		affine.Parts
		m affine.Matrix
	}
	var poses []posed
	var planes []*plane.Plane
	for i, p := range []affine.Parts{ // every second one a negative
		{Turn: 15, StretchX: 1, StretchY: 1}, {Turn: -12.5, StretchX: 0.8, StretchY: 0.8},
		{Turn: 180, StretchX: 1, StretchY: 1}, {Turn: 270, StretchX: 1, StretchY: 1},
		{Turn: 183, StretchX: 1.1, StretchY: -1.1}, {StretchX: 1, StretchY: -1}, {Turn: 96, StretchX: 0.9, StretchY: -0.9},
		{DX: third, StretchX: 1, StretchY: 1}, {DX: -third / 2, DY: third / 2, Turn: 4, StretchX: 1.02, StretchY: 1.01, Shear: 0.004},
		{Turn: 88, StretchX: 1.25, StretchY: 1.25},
	} {
		if len(only) > 0 && !slices.Contains(only, i) {
			continue
		}
		pw, ph := w, h
		if q := math.Mod(math.Abs(p.Turn), 180); q > 45 && q < 135 {
			pw, ph = h, w
		}
		m := affine.Translate(float64(pw-w)/2, float64(ph-h)/2).Mul(about(w, h, p))
		poses = append(poses, posed{p, m})
		planes = append(planes, s.shoot(pw, ph, reduce, shot{mix: [3]float64{0.7, 0.2, 0.1}, gamma: 0.7, negative: len(poses)%2 == 0, blur: 0.5, noise: 0.015, border: 0.05, m: m}, 5))
	}
	for i, got := range registerAll(t, key, Options{Polarity: [3]bool{true, false, true}}, planes...) {
		rms, worst := errorsOf(got.Matrix, poses[i].m, w, h)
		line := fmt.Sprintf("%s pose %+v negative %v: rms %.2f worst %.2f px, confidence %.2f; %s", s.name, poses[i].Parts, i%2 == 1, rms, worst, got.Confidence, got.Outcome)
		t.Log(line)
		if rms > 0.5 || got.Confidence < 0.7 {
			t.Errorf("off: %s", line)
		}
	}
}

func TestTheSamePlateThreeTimes(t *testing.T) {
	t.Parallel()
	p := drawn(900, 400, 5).shoot(900, 400, 1, shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, noise: 0.01, m: affine.Identity}, 1)
	got, err := Planes(context.Background(), [3]*plane.Plane{p, p, p}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < 3; i++ {
		if _, worst := errorsOf(got[i].Matrix, affine.Identity, 900, 400); worst > 0.01 {
			t.Errorf("plate %d: %v, %.4f px from the identity", i, got[i].Matrix, worst)
		}
		t.Log(got[i].Outcome, got[i].Confidence)
	}
}

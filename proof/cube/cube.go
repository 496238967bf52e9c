package cube

import (
	"math"
	"runtime"
	"sync"

	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Max is the relative thickness at the last node: the whole coat. No layer can
// be higher than what was coated; who wants more pigment coats thicker or loads
// the tissue more (see pigment.Tissue).
const Max = 1

// Cube is the colour of a recipe on a grid of N³ relative thicknesses.
//
// Node i of an axis stands for Thickness(i/(N-1)): dense where the colour changes
// fast, close to the bare paper. Lab holds L*, a*, b* of node (y, m, c) from
// ((c·N + m)·N + y)·3 on, whatever the order of the layers.
type Cube struct {
	N     int
	Max   float64
	Lab   []float32
	White spectrum.XYZ // of the light, Y 100
}

// Coordinate returns the place of a relative thickness on an axis of the cube,
// 0..1. Thicknesses beyond the ends are taken for the ends, and what is no
// number for nothing.
func Coordinate(t float64) float64 {
	if !(t > 0) {
		return 0
	}
	return math.Exp(0.4 * math.Log(min(t, Max)/Max)) // in WebAssembly several times faster than Pow
}

// Thickness is the inverse of Coordinate,
//
//	t = Max · u^2.5
//
// the one formula of the spacing: all that reads a table, the screen's shader
// too, is given coordinates u and never a thickness.
func Thickness(u float64) float64 { return Max * u * u * math.Sqrt(u) }

// New computes the cube of n ≥ 2 nodes an axis. Reflectances are taken each
// 10 nm; see fold.
func New(r stack.Recipe, light spectrum.Light, n int) *Cube {
	return NewByPieces(r, light, n, func() {})
}

// NewByPieces is New with a pause between pieces of the work.
func NewByPieces(r stack.Recipe, light spectrum.Light, n int, pause func()) *Cube {
	n = max(n, 2)
	c := &Cube{N: n, Max: Max, Lab: make([]float32, 3*n*n*n), White: light.White}
	g := newGrid(r.Layers(), light, n)
	piece := (n + pieces - 1) / pieces
	for from := 0; from < n; from += piece {
		if from > 0 {
			pause()
		}
		shared(from, min(from+piece, n), func(i int) { g.sheet(c, i) })
	}
	return c
}

// pieces is how many the work on a cube is parted into.
const pieces = 3

// shared has all processors do something for each number from from to before to.
func shared(from, to int, do func(i int)) {
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		wait.Go(func() {
			for i := from + worker; i < to; i += workers {
				do(i)
			}
		})
	}
	wait.Wait()
}

// Of is the cube of any function of three amounts, such as dot areas, 0 to Max, of
// n ≥ 2 nodes an axis. It may be called by several goroutines.
func Of(lab func(t [3]float64) spectrum.Lab, white spectrum.XYZ, n int) *Cube {
	n = max(n, 2)
	out := &Cube{N: n, Max: Max, Lab: make([]float32, 3*n*n*n), White: white}
	at := func(i int) float64 { return Thickness(float64(i) / float64(n-1)) }
	shared(0, n, func(c int) {
		for m := range n {
			for y := range n {
				l := lab([3]float64{at(y), at(m), at(c)})
				for k, v := range l {
					out.Lab[3*((c*n+m)*n+y)+k] = float32(v)
				}
			}
		}
	})
	return out
}

// samples is the number of wavelengths in the grid, 380 to 730 nm each 10.
const samples = (spectrum.N + 1) / 2

type row [samples]float64

// grid holds what each layer does at each node and wavelength, from the paper
// up, and the weights of the light.
type grid struct {
	n       int
	stride  [3]int // in Lab, of the layers from the paper up
	ground  row
	r, t2   [2][]row // reflectance and squared transmittance of the lower two
	top     []film
	weights [3]row
	veil    [3]float64 // the XYZ of what the surface adds
	white   [3]float64

	slanting [samples][]float64 // stack.Surface.Slanting by absorption in steps of slantStep; nil for two fluxes
	absorbed [3][]row           // K times the thickness, of the layers from the paper up
}

// slantStep is the step of the tables of slanting light, in absorption; beyond their
// slantMost nothing comes back.
const (
	slantStep = 0.005
	slantMost = 8.0
)

// slant makes the tables of light that crosses the layers on slanting ways.
func (g *grid) slant(l *stack.Layers) {
	for w := range g.slanting {
		for i := range int(slantMost/slantStep) + 1 {
			more, _, _ := l.Surface.Slanting(slantStep*float64(i), l.Ground[2*w])
			g.slanting[w] = append(g.slanting[w], more)
		}
	}
	for level, p := range l.Order {
		g.absorbed[level] = make([]row, g.n)
		for i := range g.n {
			for w := range samples {
				g.absorbed[level][i][w] = l.K[p][2*w] * Thickness(float64(i)/float64(g.n-1))
			}
		}
	}
}

// more is what slanting light adds at a node, of the layers from the paper up, and a
// wavelength.
func (g *grid) more(i, j, k, w int) float64 {
	u := (g.absorbed[0][i][w] + g.absorbed[1][j][w] + g.absorbed[2][k][w]) / slantStep
	at := int(u)
	table := g.slanting[w]
	if at >= len(table)-1 {
		return 0
	}
	return table[at] + (u-float64(at))*(table[at+1]-table[at])
}

// film is the uppermost layer at one node with the surface over it. With the
// reflectance b of what lies below the print measures
//
//	(over + through·b) / (1 - back·b)
//
// which is stack.Over and Surface.Outside in one fraction.
type film struct{ over, through, back row }

func newGrid(l *stack.Layers, light spectrum.Light, n int) *grid {
	g := &grid{n: n, white: light.White, weights: fold(light.Weights())}
	for w := range g.ground {
		g.ground[w] = l.Ground[2*w]
	}
	for ch := range g.veil {
		g.veil[ch] = l.Surface.K0 * light.White[ch]
	}
	for level, p := range l.Order {
		g.stride[level] = [3]int{1, n, n * n}[p] * 3
	}
	films := func(level, i, w int) (r, t float64) {
		p := l.Order[level]
		return stack.Film(l.K[p][2*w], l.S[p][2*w], Thickness(float64(i)/float64(n-1)))
	}
	for level := range g.r {
		g.r[level], g.t2[level] = make([]row, n), make([]row, n)
		for i := range n {
			for w := range samples {
				r, t := films(level, i, w)
				g.r[level][i][w], g.t2[level][i][w] = r, t*t
			}
		}
	}
	g.top = make([]film, n)
	q := (1 - l.Surface.K1) * (1 - l.Surface.K2)
	for i := range g.top {
		f := &g.top[i]
		for w := range samples {
			r, t := films(2, i, w)
			d := t*t - r*r
			face := 1 / (1 - l.Surface.K2*r)
			f.over[w], f.through[w], f.back[w] = q*r*face, q*d*face, (r+l.Surface.K2*d)*face
		}
	}
	if l.Optics == stack.Angular {
		g.slant(l)
	}
	return g
}

// sheet fills in all nodes whose lowest layer is at node i.
func (g *grid) sheet(c *Cube, i int) {
	var low, mid row
	r, t2 := &g.r[0][i], &g.t2[0][i]
	for w := range low {
		low[w] = r[w] + t2[w]*g.ground[w]/(1-r[w]*g.ground[w])
	}
	angular := g.slanting[0] != nil
	wx, wy, wz := &g.weights[0], &g.weights[1], &g.weights[2]
	for j := range g.n {
		r, t2 = &g.r[1][j], &g.t2[1][j]
		for w := range mid {
			mid[w] = r[w] + t2[w]*low[w]/(1-r[w]*low[w])
		}
		at := i*g.stride[0] + j*g.stride[1]
		for k := range g.top {
			f := &g.top[k]
			x, y, z := g.veil[0], g.veil[1], g.veil[2]
			for w, b := range &mid {
				v := (f.over[w] + f.through[w]*b) / (1 - f.back[w]*b)
				if angular {
					v += g.more(i, j, k, w)
				}
				x += wx[w] * v
				y += wy[w] * v
				z += wz[w] * v
			}
			lab := spectrum.XYZ{x, y, z}.Lab(g.white)
			node := c.Lab[at+k*g.stride[2]:]
			node[0], node[1], node[2] = float32(lab[0]), float32(lab[1]), float32(lab[2])
		}
	}
}

// fold brings weights for each 5 nm to each 10: a sample that is left out is
// taken for the cubic through its four neighbours that stay, or the parabola
// through three at the ends, as the weights of ASTM E308 do.
func fold(full [3]spectrum.Curve) [3]row {
	var out [3]row
	for ch := range out {
		for i, v := range full[ch] {
			w := i / 2
			switch {
			case i%2 == 0:
				out[ch][w] += v
			case w == 0:
				spread(&out[ch], v, 0, 3.0/8, 3.0/4, -1.0/8)
			case w == samples-2:
				spread(&out[ch], v, w-1, -1.0/8, 3.0/4, 3.0/8)
			default:
				spread(&out[ch], v, w-1, -1.0/16, 9.0/16, 9.0/16, -1.0/16)
			}
		}
	}
	return out
}

func spread(to *row, v float64, from int, parts ...float64) {
	for i, p := range parts {
		to[from+i] += v * p
	}
}

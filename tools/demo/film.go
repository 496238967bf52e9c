package main

import (
	"math"

	"threeply/proof/affine"
)

// plateNames are the taking filters in the order of all triples here.
var plateNames = [3]string{"red", "green", "blue"}

// sensitivity returns what each plate makes of the light at the bands: lens,
// panchromatic film and one of three dyed gelatin filters. The curves are
// invented but plausible: red from 590 nm, green 490 to 580 nm, blue to 500 nm.
// Each is scaled so that light of the spectrum white counts 1.
func sensitivity(white spectrum) [3]spectrum {
	pan := func(nm float64) float64 {
		return (1 - rise(nm, 672, 9)) * (0.75 + 0.25*bell(nm, 440, 40) + 0.2*bell(nm, 630, 30)) * rise(nm, 408, 6)
	}
	s := [3]spectrum{
		curve(func(nm float64) float64 { return pan(nm) * 0.85 * rise(nm, 598, 6) }),
		curve(func(nm float64) float64 { return pan(nm) * 0.55 * rise(nm, 497, 8) * (1 - rise(nm, 575, 8)) }),
		curve(func(nm float64) float64 { return pan(nm) * 0.50 * (1 - rise(nm, 488, 8)) }),
	}
	for k := range s {
		sum := 0.0
		for i := range white {
			sum += float64(s[k][i] * white[i])
		}
		s[k] = s[k].scale(1 / sum)
	}
	return s
}

// emulsion is the characteristic curve of a developed plate.
type emulsion struct {
	Fog   float64 `json:"base_fog"`    // density of base and fog
	Gamma float64 `json:"gamma"`       // slope of the straight line
	LogH0 float64 `json:"log_h0"`      // log10 exposure where the straight line meets base and fog
	Toe   float64 `json:"toe"`         // density over which the toe bends
	Max   float64 `json:"max_density"` // net density that the shoulder runs into
}

// density returns the density behind the exposure h, where the white of the
// scene is 1:
//
//	x = γ·(log10 h − log10 H0),  D = Fog + s(x)
//
// s follows x on the straight line, and bends as w·ln(1 + e^(x/w)) into 0 at
// the toe and in the same way into Max at the shoulder.
func (e emulsion) density(h float64) float64 {
	const shoulder = 0.16
	x := e.Gamma * (math.Log10(max(h, 1e-6)) - e.LogH0)
	net := soft(x, e.Toe)
	return e.Fog + e.Max - soft(e.Max-net, shoulder)
}

func soft(x, w float64) float64 {
	if x > 30*w {
		return x
	}
	return w * math.Log1p(math.Exp(x/w))
}

// plate is one negative as it lies on the scanner.
type plate struct {
	name     string
	matrix   affine.Matrix // key pixel to this plate's pixel
	film     emulsion
	exposure float64    // factor on the exposure that would show greys alike
	blur     float64    // of lens and scanner, standard deviation in pixels
	gate     [2]float64 // slip of the taking holder against the picture, pixels
	seed     uint64
}

// plates returns the set: green is the key. The photographer missed the factors of
// the red and the blue filter by a third of a stop either way, and the plates were
// developed one by one: to a harder red and a softer blue, within what is usual
// for separations (γ 0.7 to 0.9, from memory). Slips are those of hand-made
// exposures scanned at 1760 pixels, and shrink with the picture.
func plates(w, h int, seed uint64) [3]plate {
	k := float64(max(w, h)) / defaultSize
	cx, cy := float64(w-1)/2, float64(h-1)/2
	at := func(dx, dy, turn, sx, sy, shear float64) affine.Matrix {
		return affine.Compose(affine.Parts{DX: dx * k, DY: dy * k, Turn: turn, StretchX: sx, StretchY: sy, Shear: shear}, cx, cy)
	}
	return [3]plate{
		{"red", at(9.37, -6.18, 0.31, 1.0021, 1.0017, 0.0002), emulsion{0.29, 0.88, -1.62, 0.17, 2.35}, 1.27, 0.62, [2]float64{2.5, -1.5}, hash(seed + 1)},
		{"green", affine.Identity, emulsion{0.26, 0.79, -1.62, 0.17, 2.35}, 1.00, 0.55, [2]float64{0, 0}, hash(seed + 2)},
		{"blue", at(-11.72, 7.86, -0.42, 1.0036, 1.0040, -0.0003), emulsion{0.33, 0.71, -1.62, 0.18, 2.35}, 0.79, 1.00, [2]float64{-3, 2}, hash(seed + 3)},
	}
}

// margin is the part of the long side that the taking holder covers at each
// edge.
const margin = 0.022

// expose puts the picture, which the key frame holds, on the plate: moved,
// masked by the holder, blurred.
func (p *plate) expose(key []float32, w, h int) []float32 {
	back, _ := p.matrix.Inverse()
	edge := margin * float64(max(w, h))
	out := make([]float32, w*h)
	spread(h, func(y int) {
		for x := range w {
			kx, ky := back.Apply(float64(x), float64(y))
			gx, gy := kx-p.gate[0], ky-p.gate[1]
			in := min(gx-edge, float64(w-1)-edge-gx, gy-edge, float64(h-1)-edge-gy)
			if in > -1 {
				out[y*w+x] = float32(p.exposure * ramp(in, -1, 1) * cubic(key, w, h, kx, ky))
			}
		}
	})
	return blurred(out, w, h, p.blur)
}

// cubic interpolates between 4 × 4 pixels by Catmull-Rom; the result is held
// to 0 and more.
func cubic(pix []float32, w, h int, x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	wx, wy := catmullRom(x-fx), catmullRom(y-fy)
	sum := 0.0
	for j := range 4 {
		row := min(max(int(fy)+j-1, 0), h-1) * w
		line := 0.0
		for i := range 4 {
			line += wx[i] * float64(pix[row+min(max(int(fx)+i-1, 0), w-1)])
		}
		sum += wy[j] * line
	}
	return max(sum, 0)
}

func catmullRom(t float64) [4]float64 {
	return [4]float64{
		t * (-0.5 + t*(1-0.5*t)), 1 + t*t*(-2.5+1.5*t),
		t * (0.5 + t*(2-1.5*t)), t * t * (-0.5 + 0.5*t),
	}
}

// blurred returns the picture under a Gaussian of standard deviation sigma
// pixels; the edges repeat.
func blurred(pix []float32, w, h int, sigma float64) []float32 {
	r := int(math.Ceil(3 * sigma))
	kernel := make([]float32, 2*r+1)
	var sum float32
	for i := range kernel {
		kernel[i] = float32(bell(float64(i-r), 0, sigma))
		sum += kernel[i]
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	pass := func(src []float32, n int, at func(x, y, i int) int) []float32 {
		dst := make([]float32, len(src))
		spread(h, func(y int) {
			for x := range w {
				var v float32
				for i, k := range kernel {
					v += k * src[at(x, y, i-r)]
				}
				dst[y*w+x] = v
			}
		})
		return dst
	}
	across := pass(pix, w, func(x, y, i int) int { return y*w + min(max(x+i, 0), w-1) })
	return pass(across, h, func(x, y, i int) int { return min(max(y+i, 0), h-1)*w + x })
}

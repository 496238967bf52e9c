package icc

import (
	"runtime"
	"sync"
	"time"

	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

const (
	forwardGrid = 33 // amounts to CIELAB
	inverseGrid = 33 // CIELAB to amounts
	far         = 30 // ΔE*ab beyond which the nearest colour is good enough
)

// Output returns the profile of a recipe in one light as the bytes of an .icc
// file, version 2, about 0.7 MB. Its device colours are C, M, Y: the relative
// thickness of each layer over limit, 0..1, not dot areas. All intents hold the
// same colorimetry, relative to the bare paper; colours out of reach go to
// about the nearest that can be printed. Light other than D50 is adapted to it
// (Bradford). limit is the thickness of a full layer, above 0 and at most the coat,
// cube.Max; tool names with its version what made the profile, and made is the date in
// the header. progress, where not nil, is told the share done, 0 … 1, never twice
// at a time.
func Output(r stack.Recipe, light spectrum.Light, limit float64, name, tool string, made time.Time, progress func(share float64)) []byte {
	p := newPrinter(r, light, min(limit, cube.Max))
	forward := lut{
		in: curve(4096, func(d float64) float64 { return cube.Coordinate(d * cube.Max) }),
		// 33 nodes at equal steps of the coordinate, as in the cube.
		grid: forwardGrid, nodes: p.forward(), out: curve(2, same), outs: 3,
	}
	back, gamut := p.inverse(progress)
	inverse := lut{
		in: curve(2, same), grid: inverseGrid, nodes: back, outs: 3,
		out: curve(4096, func(u float64) float64 { return cube.Thickness(u) / cube.Max }),
	}
	outside := lut{in: curve(2, same), grid: inverseGrid, nodes: gamut, outs: 1, out: curve(2, same)}
	return assemble(outputKind, made, []tag{
		{[]string{"desc"}, descTag(name)},
		{[]string{"cprt"}, textTag("No copyright, use freely. A computed estimate from approximate pigment spectra, by " + tool + ".")},
		{[]string{"wtpt"}, xyzTag(p.white)},
		{[]string{"A2B0", "A2B1", "A2B2"}, forward.bytes()},
		{[]string{"B2A0", "B2A1", "B2A2"}, inverse.bytes()},
		{[]string{"gamt"}, outside.bytes()},
	})
}

func same(x float64) float64 { return x }

// printer is a recipe whose loads are scaled so that the last node of a cube is
// the limit: K·X and S·X are products, so that is the same print.
type printer struct {
	cube  *cube.Cube
	light spectrum.Light
	toPCS [9]float64   // XYZ under the light to D50
	white spectrum.XYZ // the bare paper, D50
}

func newPrinter(r stack.Recipe, light spectrum.Light, limit float64) *printer {
	for _, p := range pigment.Printers() {
		t := r.Palette.Layer(p)
		t.Load *= limit / cube.Max
		r.Palette = r.Palette.WithLayer(p, t)
	}
	p := &printer{cube: cube.New(r, light, forwardGrid), light: light, toPCS: spectrum.Adapt(light.White, d50)}
	p.white = spectrum.Transform(p.toPCS, light.XYZ(r.Reflectance([3]float64{})))
	return p
}

// relative takes CIELAB under the light to media-relative CIELAB of D50.
func (p *printer) relative(l spectrum.Lab) spectrum.Lab {
	x := spectrum.Transform(p.toPCS, l.XYZ(p.light.White))
	for i := range x {
		x[i] *= d50[i] / p.white[i]
	}
	return x.Lab(d50)
}

// absolute is the inverse of relative.
func (p *printer) absolute(l spectrum.Lab) spectrum.Lab {
	x := l.XYZ(d50)
	for i := range x {
		x[i] *= p.white[i] / d50[i]
	}
	return spectrum.Transform(spectrum.Adapt(d50, p.light.White), x).Lab(p.light.White)
}

// forward lists the nodes, cyan slowest, yellow fastest: the order of the cube.
func (p *printer) forward() []uint16 {
	out := make([]uint16, 0, len(p.cube.Lab))
	for i := 0; i < len(p.cube.Lab); i += 3 {
		l := labCode(p.relative(spectrum.Lab{float64(p.cube.Lab[i]), float64(p.cube.Lab[i+1]), float64(p.cube.Lab[i+2])}))
		out = append(out, l[:]...)
	}
	return out
}

// inverse lists, L* slowest and b* fastest, the coordinates of C, M, Y, and
// whether the colour is out of reach: 0 within, 65535 beyond ΔE00 of 10.
func (p *printer) inverse(progress func(share float64)) (amounts, gamut []uint16) {
	const n = inverseGrid
	amounts, gamut = make([]uint16, 3*n*n*n), make([]uint16, n*n*n)
	var wait sync.WaitGroup
	for worker := range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := worker; i < n*n*n; i += runtime.GOMAXPROCS(0) {
				if worker == 0 && progress != nil { // the others go at about the same pace
					progress(float64(i) / (n * n * n))
				}
				place := func(k int) float64 { return float64(k%n) / (n - 1) }
				want := p.absolute(codeLab([3]float64{place(i / (n * n)), place(i / n), place(i)}))
				t, miss := balance.Near(p.cube, want, far)
				for k, layer := range [3]pigment.Printer{pigment.Cyan, pigment.Magenta, pigment.Yellow} {
					amounts[3*i+k] = sixteen(cube.Coordinate(t[layer]))
				}
				if miss > 1 {
					gamut[i] = sixteen(miss / 10)
				}
			}
		})
	}
	wait.Wait()
	if progress != nil {
		progress(1)
	}
	return amounts, gamut
}

package render

import (
	"math"
	"runtime"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/tone"
)

// curved is a table whose colours bend, as those of a print do; deep is how far its darkest
// blue lies below what is there without it, of which 0.067 stays above black.
func curved(n int, deep float64) []uint16 {
	t := make([]uint16, 3*n*n*n)
	for i := range n * n * n {
		y, m, c := float64(i%n)/float64(n-1), float64(i/n%n)/float64(n-1), float64(i/n/n)/float64(n-1)
		for ch, v := range [3]float64{math.Exp(-2*c-0.3*m) - 0.1*c*y, math.Exp(-1.8*m - 0.4*c*c - 0.1*y), math.Exp(-2.2*y-0.5*m*c) - deep*y*m} {
			t[3*i+ch] = uint16(math.Round((v + 0.5) / 2 * 65535))
		}
	}
	return t
}

// TestImageIsAt holds the fast way to the slow one, over ways of all kinds: the same code
// in nearly all channels, the next one in the others.
func TestImageIsAt(t *testing.T) {
	const w, h = 160, 120
	for name, change := range map[string]func(p *Picture){
		"as it is": func(*Picture) {},
		"key": func(p *Picture) {
			p.Layers[1].Laid.Matrix, p.Layers[1].Scanned.Matrix = affine.Identity, affine.Identity
		},
		"steep": func(p *Picture) { // a coat that is through at once
			for i := range p.Layers {
				var c tone.Curve
				for k := range c {
					if c[k] = uint16(k); k > 900+200*i {
						c[k] = uint16(40000 + 5*k)
					}
				}
				p.Layers[i].Print = &c
			}
		},
		"whole pixels":      func(p *Picture) { p.Layers[0].Laid.Matrix = affine.Translate(-17, 9) },
		"mirrored":          func(p *Picture) { p.Layers[2].Laid.Matrix = affine.Matrix{-1, 0, w - 1.3, 0, 1, 0.2} },
		"quarter turn":      func(p *Picture) { p.Layers[2].Laid.Matrix = affine.Matrix{0, -1, h + 3, 1, 0, -20} },
		"half turn, larger": func(p *Picture) { p.Layers[0].Laid.Matrix = affine.Matrix{-1.4, 0.1, 200, -0.1, -1.4, 150} },
		"beside it":         func(p *Picture) { p.Layers[0].Laid.Matrix = affine.Translate(500, 0) },
		"hidden":            func(p *Picture) { p.Layers[1].Hidden = true },
		"no number":         func(p *Picture) { p.Layers[1].Laid.Matrix[2] = math.NaN() },
		"masked":            func(p *Picture) { p.Masks = &[9]float32{1.2, -0.1, -0.1, -0.05, 1.1, -0.05, 0.02, -0.2, 1.15} },
		"masked and hidden": func(p *Picture) {
			p.Masks, p.Layers[0].Hidden = &[9]float32{1.2, -0.1, -0.1, -0.05, 1.1, -0.05, 0.02, -0.2, 1.15}, true
		},
		"shown elsewhere": func(p *Picture) { p.Show = func(c RGB) RGB { return RGB{c[1], c[0] * c[0], c[2]} } },
		"warped":          func(p *Picture) { p.Layers[2].Laid.Warp = &Warp{ToKey: affine.Identity, Shift: swell{}} },
		"a single row":    func(p *Picture) { p.Layers[2].Plane = plane.New(30, 1) },
	} {
		p := picture(w, h)
		p.N, p.Table = 33, Decode(curved(33, 0.2))
		for i := range p.Layers {
			p.Layers[i].Tone, p.Layers[i].Thickness = p.Layers[i].Reference, p.Layers[i].Print
		}
		change(p)
		for _, kind := range []Kind{Reference, Print} {
			img := p.Image(kind, w, h, nil)
			others := 0
			for y := range h {
				for x := range w {
					c := p.At(kind, float64(x), float64(y))
					for ch := range 3 {
						got, want := int(img.Pix[img.PixOffset(x, y)+ch]), int(uint8(c[ch]*255+0.5))
						if got != want {
							others++
						}
						if got < want-1 || got > want+1 {
							t.Fatalf("%s: kind %d at %d,%d channel %d: %d, want %d", name, kind, x, y, ch, got, want)
						}
					}
					if img.Pix[img.PixOffset(x, y)+3] != 255 {
						t.Fatalf("%s: %d,%d is not opaque", name, x, y)
					}
				}
			}
			if share := float64(others) / (3 * w * h); share > 0.05 { // a word holds a sixteenth of a code: rounding moves one in twenty at most
				t.Errorf("%s: kind %d: %.1f %% of the codes are the next ones", name, kind, 100*share)
			} else {
				t.Logf("%s: kind %d: %.2f %% of the codes are the next ones", name, kind, 100*share)
			}
		}
	}
}

// swell is a displacement that is not affine.
type swell struct{}

func (swell) At(x, y float64) (dx, dy float64) { return math.Sin(y / 9), math.Cos(x / 7) }

// The run of a row inside a plane against a look at each pixel of it.
func TestInside(t *testing.T) {
	for _, m := range []affine.Matrix{affine.Identity, affine.Translate(-3, 5), {-1, 0, 20, 0, 1, 0}, {0.3, 0.9, -4, -0.9, 0.3, 30}, {0, 1, 2.5, 1, 0, -7.25}, {-2, 0.01, 31.5, 0.01, 3, -4}} {
		var l swiftLayer
		if !l.along(&Way{Matrix: m}) {
			t.Fatalf("%v is refused", m)
		}
		for y := range 40 {
			from, to := l.inside(24, 18, 50, y)
			for x := range 50 {
				u, v := l.u.start+l.u.right*int64(x)+l.u.down*int64(y), l.v.start+l.v.right*int64(x)+l.v.down*int64(y)
				on := u >= 0 && v >= 0 && u < 23<<strideBits && v < 17<<strideBits
				if got := x >= from && x < to; got != on {
					t.Fatalf("%v: %d,%d: %v, want %v (%d to %d)", m, x, y, got, on, from, to)
				}
			}
		}
	}
}

func benchmark(b *testing.B, kind Kind, change func(p *Picture)) {
	const w, h = 3000, 2000
	p := picture(w, h)
	p.N, p.Table = 33, Decode(curved(33, 0.2))
	p.Layers[1].Laid.Matrix = affine.Identity // the key
	change(p)
	for b.Loop() {
		p.Image(kind, w, h, nil)
	}
	mp := float64(w*h*b.N) / 1e6 / b.Elapsed().Seconds()
	b.ReportMetric(mp, "MP/s")
	b.ReportMetric(mp/float64(runtime.GOMAXPROCS(0)), "MP/s/core")
}

// BenchmarkPrint renders with three curves and two plates between pixels, as register
// leaves them.
func BenchmarkPrint(b *testing.B) { benchmark(b, Print, func(*Picture) {}) }

func BenchmarkMasked(b *testing.B) {
	benchmark(b, Print, func(p *Picture) {
		for i := range p.Layers {
			p.Layers[i].Tone, p.Layers[i].Thickness = p.Layers[i].Reference, p.Layers[i].Print
		}
		p.Masks = &[9]float32{1.2, -0.1, -0.1, -0.05, 1.1, -0.05, 0.02, -0.2, 1.15}
	})
}

func BenchmarkReference(b *testing.B) { benchmark(b, Reference, func(*Picture) {}) }

// BenchmarkLookUp renders plates that lie on each other: curves and cube alone.
func BenchmarkLookUp(b *testing.B) {
	benchmark(b, Print, func(p *Picture) {
		for i := range p.Layers {
			p.Layers[i].Laid.Matrix = affine.Identity
		}
	})
}

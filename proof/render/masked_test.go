package render

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/tone"
)

// toned gives a picture the curves of a masked print.
func toned(p *Picture) *Picture {
	film := tone.Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.8}
	for i := range p.Layers {
		p.Layers[i].Tone = tone.TonesOf(film).Curve()
		p.Layers[i].Thickness = tone.ThicknessCurve(func(u float64) float64 { return 0.8 * u * u })
	}
	return p
}

// toneOf is the inverse of the thicknesses that toned gives.
func toneOf(coordinate float32) float64 { return math.Sqrt(cube.Thickness(float64(coordinate)) / 0.8) }

// Masks that mask nothing give the unmasked print.
func TestNoMaskIsUnmasked(t *testing.T) {
	p := toned(picture(90, 70))
	worst := 0.0
	for y := 5; y < 65; y += 3 {
		for x := 5; x < 85; x += 2 {
			p.Masks = nil
			want := p.At(Print, float64(x), float64(y))
			p.Masks = &[9]float32{1, 0, 0, 0, 1, 0, 0, 0, 1}
			got := p.At(Print, float64(x), float64(y))
			for i := range got {
				worst = max(worst, math.Abs(float64(got[i]-want[i])))
			}
		}
	}
	t.Logf("largest distance %.2g", worst)
	if worst > 0.001 {
		t.Errorf("largest distance %g", worst)
	}
}

// A mask of the magenta plate takes from cyan what its formula says; a hidden
// layer still masks.
func TestMaskFollowsItsFormula(t *testing.T) {
	p := toned(picture(90, 70))
	p.Masks = &[9]float32{1, 0, 0, 0, 1, 0, 0, -0.3, 1.3}
	for y := 5; y < 65; y += 7 {
		for x := 5; x < 85; x += 5 {
			q := p.Coordinates(float64(x), float64(y))
			u := func(i int) float64 { return toneOf(q[i]) }
			p.Masks = &[9]float32{1, 0, 0, 0, 1, 0, 0, 0, 1}
			unmasked := p.Coordinates(float64(x), float64(y))
			v := toneOf(unmasked[2])*1.3 - 0.3*u(1)
			if want := min(max(v, 0), 1); math.Abs(u(2)-want) > 0.002 {
				t.Fatalf("at %d,%d cyan has tone %.4f, want %.4f", x, y, u(2), want)
			}
			p.Masks = &[9]float32{1, 0, 0, 0, 1, 0, 0, -0.3, 1.3}
			p.Layers[1].Hidden = true
			if h := p.Coordinates(float64(x), float64(y)); h[1] != 0 || h[2] != q[2] {
				t.Fatalf("hidden magenta: %v, want cyan as before, %g", h, q[2])
			}
			p.Layers[1].Hidden = false
		}
	}
}

// bend is a shift that an affine map can make too.
type bend struct{}

func (bend) At(x, y float64) (dx, dy float64) { return 0.01 * x, 2 - 0.02*y }

func TestWarpComesBeforeTheMatrix(t *testing.T) {
	p, q := picture(90, 70), picture(90, 70)
	toKey := affine.Compose(affine.Parts{DX: 1.5, DY: -2, Turn: 2, StretchX: 1, StretchY: 1}, 45, 35)
	shift := affine.Matrix{1.01, 0, 0, 0, 0.98, 2}
	for i := range p.Layers {
		p.Layers[i].Laid.Warp = &Warp{ToKey: toKey, Shift: bend{}}
		p.Layers[i].Scanned.Warp = p.Layers[i].Laid.Warp
		m := q.Layers[i].Laid.Matrix.Mul(shift).Mul(toKey)
		q.Layers[i].Laid.Matrix, q.Layers[i].Scanned.Matrix = m, m
	}
	for y := 8; y < 60; y += 3 {
		for x := 8; x < 80; x += 2 {
			for _, kind := range []Kind{Reference, Print} {
				got, want := p.At(kind, float64(x), float64(y)), q.At(kind, float64(x), float64(y))
				for i := range got {
					if math.Abs(float64(got[i]-want[i])) > 1e-4 {
						t.Fatalf("%d,%d: %v, want %v", x, y, got, want)
					}
				}
			}
		}
	}
}

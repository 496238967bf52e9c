package shader

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/reach"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// Ebitengine v2.9.10 numbers the uniforms of a program on WebGL from 1 by five bits
// (internal/graphicsdriver/opengl/gl, GetUniformLocation): its own seven
// (internal/graphics, PreservedUniformVariablesCount), the four textures and ours.
func TestUniformsFitFiveBits(t *testing.T) {
	if n := reflect.TypeFor[Uniforms]().NumField(); n+7+4 > 31 {
		t.Errorf("%d uniforms, 20 fit", n)
	}
}

// The numbers follow what is written to the uniforms afterwards.
func TestEveryUniformIsNamed(t *testing.T) {
	u := Uniforms{}
	got := u.Named()
	u = Uniforms{Lightest: 93, Masks: Mat3{1, 2, 3, 4, 5, 6, 7, 8, 9}, Frame: Vec2{7, 8}}
	PutRows(&u.To, 1, affine.Matrix{1, 2, 3, 4, 5, 6})
	PutTerms(&u.BendX, 2, [7]float64{1, 2, 3, 4, 5, 6, 7})
	for name, want := range map[string]any{
		"Lightest": []float32{93}, "Masks": []float32{1, 2, 3, 4, 5, 6, 7, 8, 9}, "Frame": []float32{7, 8},
		"To":    []float32{0, 0, 0, 1, 2, 3, 0, 0, 0, 0, 0, 0, 4, 5, 6, 0, 0, 0},
		"BendX": []float32{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 7, 0},
	} {
		if !reflect.DeepEqual(got[name], want) {
			t.Errorf("%s is %v, want %v", name, got[name], want)
		}
	}
	if n := reflect.TypeFor[Uniforms]().NumField(); len(got) != n {
		t.Errorf("%d uniforms of %d", len(got), n)
	}
}

// texel reads a pixel of the table's image as the shader's tableTexel does: 0 … 1.
func texel(px []byte, x, y int) [4]float64 {
	at := 4 * (y*TableWidth + x)
	return [4]float64{float64(px[at]) / 255, float64(px[at+1]) / 255, float64(px[at+2]) / 255, float64(px[at+3]) / 255}
}

// code is what the shader makes of the high byte in red and the low one in green, next what
// it makes of blue and alpha.
func code(c [4]float64) float64 { return c[0]*65280 + c[1]*255 }
func next(c [4]float64) float64 { return c[2]*65280 + c[3]*255 }

// Every node of the cube, every knot of every curve and every level of the shell is
// found where the shader's formulas look for it.
func TestTableIsReadAsTheShaderReadsIt(t *testing.T) {
	s := session.New()
	for i := range s.Sources {
		s.Sources[i].Film = tone.Film{Negative: true, White: 1.5 + 0.1*float64(i), Black: 0.3, Gamma: 0.8}
	}
	printing, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	curves := printing.Curves(&s)
	shell := reach.New(printing.Cube, printing.Limit).Shell(printing.Scale)
	px := make([]byte, 4*TableWidth*TableHeight)
	Table(px, printing.Table, curves, shell)

	rnd := rand.New(rand.NewPCG(3, 4))
	for range 5000 { // node() of the shader
		y, m, c := rnd.IntN(Nodes), rnd.IntN(Nodes), rnd.IntN(Nodes)
		high, low := texel(px, c*Nodes+y, m), texel(px, c*Nodes+y, m+Nodes)
		for ch := range 3 {
			got, want := high[ch]*65280+low[ch]*255, float64(printing.Table[3*((c*Nodes+m)*Nodes+y)+ch])
			if math.Abs(got-want) > 1e-6 {
				t.Fatalf("node %d %d %d, channel %d: %g, want %g", y, m, c, ch, got, want)
			}
		}
	}
	for i, c := range curves {
		for kind, curve := range [...]*tone.Curve{c.Print, c.Reference, c.Tone, c.Thickness} {
			row := CurveRow(kind, pigment.Printer(i))
			for k, want := range curve { // knot() of the shader
				both := texel(px, k%CurveRun, row+k/CurveRun)
				if got := code(both); math.Abs(got-float64(want)) > 1e-6 {
					t.Fatalf("curve %d of printer %d, knot %d: %g, want %d", kind, i, k, got, want)
				}
				if k == len(curve)-1 {
					break // along() does not begin there
				}
				if got, want := next(both), float64(curve[k+1]); math.Abs(got-want) > 1e-6 {
					t.Fatalf("curve %d of printer %d, after knot %d: %g, want %g", kind, i, k, got, want)
				}
			}
		}
	}
	for k := range reach.Hues {
		levels := shell.Slice(360 * float64(k) / reach.Hues)
		for l, want := range levels { // shell() of the shader
			both := texel(px, l, ShellRow+k)
			if got := code(both) * MostChroma / 65535; math.Abs(got-max(want, 0)) > MostChroma/65535.0 {
				t.Fatalf("hue %d, level %d: %g, want %g", k, l, got, want)
			}
			if l == len(levels)-1 {
				break // room() does not begin there
			}
			if got, want := next(both)*MostChroma/65535, levels[l+1]; math.Abs(got-max(want, 0)) > MostChroma/65535.0 {
				t.Fatalf("hue %d, after level %d: %g, want %g", k, l, got, want)
			}
		}
		if got, want := code(texel(px, DarkestColumn, ShellRow+k))*MostLight/65535, shell.Darkest(k); math.Abs(got-want) > MostLight/65535.0 {
			t.Fatalf("hue %d, darkest: %g, want %g", k, got, want)
		}
	}
}

// The layout leaves no two things on one pixel and lies within an image that every
// WebGL device takes.
func TestTableFits(t *testing.T) {
	if TableWidth > 4096 || TableHeight > 4096 || CurveRun > TableWidth || DarkestColumn >= TableWidth {
		t.Errorf("%d × %d", TableWidth, TableHeight)
	}
	if CurveRow(0, 0) < 2*Nodes || CurveRow(CurveKinds-1, 2)+CurveRows > ShellRow || CurveRows*CurveRun < tone.Knots+1 {
		t.Error("curves lie on the cube or on the shell")
	}
}

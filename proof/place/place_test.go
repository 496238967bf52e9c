package place

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/warp"
)

// Paper that grows across an upright grain grows sideways only.
func TestPaperStretchesAcrossItsGrain(t *testing.T) {
	s := sessiontest.Opened()
	s.Offsets[pigment.Cyan].Across = 1
	for grain, want := range map[string][2]float64{"upright": {1.01, 1}, "level": {1, 1.01}} {
		s.Grain = grain
		m := Offset(&s, pigment.Cyan)
		if math.Abs(m[0]-want[0]) > 1e-12 || math.Abs(m[4]-want[1]) > 1e-12 {
			t.Errorf("%s: %v", grain, m)
		}
	}
}

// A smooth rest is added only where it belongs: to the register that found it.
func TestLocalIsUsedWhereItFits(t *testing.T) {
	s := sessiontest.Opened()
	s.Local[0].W, s.Local[0].H, s.Local[0].CX[0] = 1000, 700, 2
	if Local(&s, 0) != nil {
		t.Error("used though it is switched off")
	}
	s.LocalOn = true
	s.Found[1].Matrix = affine.Identity
	x, y := Layer(&s, pigment.Cyan).Apply(500, 350)
	ax, ay := LayerMatrix(&s, pigment.Cyan).Apply(500, 350)
	if math.Abs(math.Hypot(x-ax, y-ay)-1) > 0.01 { // P2(0) is -1/2, of 2 px
		t.Errorf("the middle moves by %g px", math.Hypot(x-ax, y-ay))
	}
	s.Key = "red"
	if Local(&s, 2) != nil {
		t.Error("used against another key")
	}
}

// Whatever plate is the key, the same scene point is found in each source.
func TestAnotherKeyKeepsRegister(t *testing.T) {
	s := sessiontest.Opened()
	x0, y0 := Register(&s, 0).Apply(400, 300)
	x2, y2 := Register(&s, 2).Apply(400, 300)
	s.Key = "red"
	x, y := Register(&s, 2).Apply(x0, y0)
	if math.Hypot(x-x2, y-y2) > 1e-9 {
		t.Errorf("from the red plate the blue one is found at (%g, %g), want (%g, %g)", x, y, x2, y2)
	}
}

// A layer moved right by 3 pixels on the print shows at x what it had at x-3.
func TestOffsetMovesTheLayer(t *testing.T) {
	s := sessiontest.Opened()
	s.Offsets[pigment.Cyan] = session.Offset{DX: 3 * s.PixelMicrons()}
	x, y := LayerMatrix(&s, pigment.Cyan).Apply(103, 50)
	wx, wy := Register(&s, 0).Apply(100, 50)
	if math.Hypot(x-wx, y-wy) > 1e-9 {
		t.Errorf("(%g, %g), want (%g, %g)", x, y, wx, wy)
	}
}

// Back undoes Apply, the local part with it.
func TestBackUndoesTheWay(t *testing.T) {
	local := warp.Local{W: 900, H: 700}
	for i := range local.CX {
		local.CX[i], local.CY[i] = 0.4*float64(i), -0.3*float64(i%3)
	}
	p := Path{ToKey: affine.Translate(3, -2), Local: &local, ToPlate: affine.Compose(affine.Parts{DX: 11, DY: -7, Turn: 2, StretchX: 1.02, StretchY: 0.99}, 450, 350)}
	for _, at := range [][2]float64{{10, 20}, {450, 350}, {880, 600}} {
		u, v := p.Apply(at[0], at[1])
		x, y, ok := p.Back(u, v)
		if !ok || math.Hypot(x-at[0], y-at[1]) > 0.01 {
			t.Errorf("%v goes to %g, %g and comes back to %g, %g", at, u, v, x, y)
		}
	}
	p.ToPlate = affine.Matrix{}
	if _, _, ok := p.Back(1, 1); ok {
		t.Error("a way that ends in one point was undone")
	}
}

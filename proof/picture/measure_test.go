package picture

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/render"
	"threeply/proof/session"
)

func TestMasksBringThePrintNearer(t *testing.T) {
	for _, palette := range []string{"arylide", "earth"} {
		s, planes := picturetest.Patches()
		s.Palette = palette
		unmasked, err := PrepareFor(&s, planes)
		if err != nil || unmasked.Masks != nil {
			t.Fatalf("%s: masks %v, error %v", palette, unmasked.Masks, err)
		}
		s.Masked = true
		masked, err := PrepareFor(&s, planes)
		if err != nil || masked.Masks == nil {
			t.Fatalf("%s: masks %v, error %v", palette, masked.Masks, err)
		}
		a, b := unmasked.Measure(&s, planes, 0), masked.Measure(&s, planes, 0)
		t.Logf("%s: unmasked %.2f (95 %% %.2f), masked %.2f (%.2f), masks %.3v", palette, a.Mean, a.P95, b.Mean, b.P95, *masked.Masks)
		if !(b.Mean < a.Mean) {
			t.Errorf("%s: masked prints lie ΔE00 %.2f off, unmasked ones %.2f", palette, b.Mean, a.Mean)
		}
		if a.Beyond != b.Beyond || a.Beyond <= 0 || a.Beyond >= 1 {
			t.Errorf("%s: out of reach %.2f of the picture unmasked, %.2f masked", palette, a.Beyond, b.Beyond)
		}
		for i := range 3 { // neutrals stay neutrals
			if sum := masked.Masks[3*i] + masked.Masks[3*i+1] + masked.Masks[3*i+2]; math.Abs(sum-1) > 1e-9 {
				t.Errorf("row %d of the masks sums to %g", i, sum)
			}
		}
	}
}

func TestAPictureWithoutColoursGivesNoMasks(t *testing.T) {
	s, planes := picturetest.Patches()
	s.Masked = true
	planes[0], planes[2] = planes[1], planes[1]
	if _, err := PrepareFor(&s, planes); err == nil {
		t.Error("masks were found in a grey picture")
	}
}

// The dim gallery shows the same print flatter, not darker: the eye opens.
func TestDimGalleryFlattens(t *testing.T) {
	s, _ := picturetest.Patches()
	bench, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	s.Dim = true
	if bench.Fits(&s) {
		t.Error("a printing for the bench passes for one in the gallery")
	}
	dim, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	// the paper, and a full magenta layer
	m := 3 * (CubeNodes - 1) * CubeNodes
	if a, b := bench.Table[1], dim.Table[1]; math.Abs(float64(a)-float64(b)) > 200 {
		t.Errorf("the paper's code is %d on the bench, %d in the gallery", a, b)
	}
	spread := func(t []uint16) int { return int(t[m]) - int(t[m+1]) }
	if a, b := spread(bench.Table), spread(dim.Table); b >= a {
		t.Errorf("magenta is not duller in the gallery: red less green %d, on the bench %d", b, a)
	}
}

func TestLighterAndHeavierLieAboutTheLikely(t *testing.T) {
	s, planes := picturetest.Patches()
	likely, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	light := func(p *Printing) float64 {
		pic := Assemble(&s, p, p.Curves(&s), planes, affine.Identity, 0)
		c := pic.At(render.Print, 10, 90) // a middle grey
		return float64(c[0] + c[1] + c[2])
	}
	a, b, c := light(likely.Lighter(s.Doubts())), light(likely), light(likely.Heavier(s.Doubts()))
	if !(a > b && b > c) {
		t.Errorf("lighter %.3f, likely %.3f, heavier %.3f", a, b, c)
	}
}

// Thicker layers reach a deeper black; the session's limit is held, and no layer
// is thicker than its coat, whatever the session asks for.
func TestTheLimitOfThicknessIsHeld(t *testing.T) {
	s, _ := picturetest.Patches()
	depth := map[float64]float64{}
	for _, limit := range []float64{0.5, 0.8, 1, 2} {
		s.Limit = limit
		p, err := Prepare(&s)
		if err != nil {
			t.Fatal(err)
		}
		depth[limit] = p.Scale.Depth.Lab[0]
		for i, x := range p.Scale.Depth.Thickness {
			if x > min(limit, 1)+1e-9 {
				t.Errorf("limit %g: layer %d is %g thick", limit, i, x)
			}
		}
	}
	if !(depth[0.5] > depth[0.8] && depth[0.8] > depth[1] && depth[2] == depth[1]) {
		t.Errorf("L* of the depth by limit: %v", depth)
	}
}

// A grey picture prints as near as the scale is neutral, whatever the paper and the
// black of a palette; what is darker than the depth is counted apart.
func TestGreysAreJudgedOnThePrintsScale(t *testing.T) {
	s, planes := picturetest.Patches()
	planes[0], planes[2] = planes[1], planes[1]
	for i := range s.Sources {
		s.Sources[i].Film = s.Sources[1].Film
	}
	for _, palette := range pigment.Palettes() {
		for _, paper := range []string{"sized", "aged"} {
			s.Palette, s.Paper = palette.ID, paper
			picturetest.Hold(&s, 0) // the wash is another matter
			p, err := Prepare(&s)
			if err != nil {
				t.Fatal(err)
			}
			m := p.Measure(&s, planes, 0)
			if !(m.Mean < 0.5 && m.P95 < 1 && m.Beyond == 0) {
				t.Errorf("%s on %s: %+v", palette.ID, paper, m)
			}
			if !(m.Below > 0 && m.Below < 1) {
				t.Errorf("%s on %s: %.2f of the picture lie below the depth", palette.ID, paper, m.Below)
			}
		}
	}
}

// The small level of a session is the one that the plates themselves come to.
func TestSmallLevel(t *testing.T) {
	var s session.State
	var levels [3][]*plane.Plane
	for i, size := range [3][2]int{{641, 500}, {90, 1281}, {640, 640}} {
		s.Sources[i].W, s.Sources[i].H = size[0], size[1]
		levels[i] = plane.New(size[0], size[1]).Pyramid(ThumbSide)
	}
	if _, want := Small(levels); SmallLevel(&s) != want {
		t.Errorf("level %d, want %d", SmallLevel(&s), want)
	}
}

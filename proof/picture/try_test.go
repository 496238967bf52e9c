package picture

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/relief"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spread"
)

// reduced is the set of patches, whole.
func reduced() (session.State, Reduced) {
	s, planes := picturetest.Patches()
	w, h := s.Frame()
	return s, Reduced{Planes: planes, Frame: [4]float64{-0.5, -0.5, float64(w) - 0.5, float64(h) - 0.5}}
}

// What is tried is what the session would be with that palette chosen; what that must be
// is known beforehand, see TestTriedColours.
func TestTryIsThePaletteChosen(t *testing.T) {
	s, r := reduced()
	for _, masked := range []bool{false, true} {
		s.Masked = masked
		for _, id := range []string{"arylide", "earth"} {
			got, img, err := Try(&s, id, r, 80)
			if err != nil {
				t.Fatal(err)
			}
			chosen := s
			chosen.Palette = id
			p, err := PrepareFor(&chosen, r.Planes)
			if err != nil {
				t.Fatal(err)
			}
			if want := p.Measure(&chosen, r.Planes, 0); got.Measured != want {
				t.Errorf("%s: measured %+v, want %+v", id, got.Measured, want)
			}
			if got.Lab != p.Scale.Depth.Lab || got.Density != p.Scale.Depth.VisualDensity || got.Volume != reach.New(p.Cube, p.Limit).Volume() {
				t.Errorf("%s: %+v", id, got)
			}
			if b := img.Bounds(); b.Dx() != 80 || b.Dy() != 80 {
				t.Fatalf("%s: a small print of %v", id, b)
			}
			// the middle of every patch of 20 pixels, 10 of the small print
			pic := Assemble(&chosen, p, p.Curves(&chosen), r.Planes, affine.Identity, 0)
			for i := range 64 {
				x, y := i%8, i/8
				want := pic.At(render.Print, float64(20*x+10), float64(20*y+10))
				c := img.NRGBAAt(10*x+5, 10*y+5)
				for ch, v := range []uint8{c.R, c.G, c.B} {
					if math.Abs(float64(v)-255*float64(want[ch])) > 1 {
						t.Fatalf("%s: patch %d, %d is %v, want %v", id, x, y, c, want)
					}
				}
			}
		}
	}
	if s.Palette != "arylide" {
		t.Error("trying a palette chooses it")
	}
	if _, _, err := Try(&s, "nothing", r, 80); err == nil {
		t.Error("a palette that there is not is tried")
	}
}

// A frame that is part of the key fills the small print.
func TestTryShowsTheFrame(t *testing.T) {
	s, r := reduced()
	r.Frame = [4]float64{39.5, 79.5, 119.5, 119.5} // four patches by two
	_, img, err := Try(&s, "arylide", r, 40)
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 40 || b.Dy() != 20 {
		t.Fatalf("%v", b)
	}
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	pic := Assemble(&s, p, p.Curves(&s), r.Planes, affine.Identity, 0)
	for i := range 4 {
		want, c := pic.At(render.Print, float64(50+20*i), 90), img.NRGBAAt(5+10*i, 5)
		if math.Abs(float64(c.G)-255*float64(want[1])) > 1 {
			t.Errorf("patch %d is %v, want %v", i, c, want)
		}
	}
}

// Figures are taken from the level that masks are found on.
func TestCoarseIsSmall(t *testing.T) {
	for _, side := range []int{200, 320, 321, 500, 1000, 3000} {
		var levels [3][]*plane.Plane
		for i := range levels {
			levels[i] = plane.New(side, side/2+10*i).Pyramid(ThumbSide)
		}
		want, level := Small(levels)
		fine := max(level-1, 0)
		r := Reduced{Level: fine}
		for i := range levels {
			r.Planes[i] = levels[i][fine]
		}
		got, at := r.Coarse()
		if at != level || got[0].W != want[0].W || got[2].H != want[2].H {
			t.Errorf("side %d: level %d of %d × %d, want %d of %d × %d", side, at, got[0].W, got[2].H, level, want[0].W, want[2].H)
		}
	}
}

func TestTryMasks(t *testing.T) {
	s, r := reduced()
	w, err := TryMasks(&s, r)
	if err != nil || w.Masked == nil || w.Masks == nil {
		t.Fatalf("%+v, %v", w, err)
	}
	if !(w.Masked.Mean < w.Unmasked.Mean) || w.Masked.Beyond != w.Unmasked.Beyond {
		t.Errorf("unmasked %+v, masked %+v", w.Unmasked, *w.Masked)
	}
	r.Planes[0], r.Planes[2] = r.Planes[1], r.Planes[1]
	if w, err = TryMasks(&s, r); err != nil || w.Masked != nil || w.Note == "" {
		t.Errorf("a grey picture: %+v, %v", w, err)
	}
	s.Masked = true
	if got, img, err := Try(&s, "earth", r, 40); err != nil || img == nil || got.Note == "" {
		t.Errorf("a grey picture: %+v, %v", got, err)
	}
}

func BenchmarkTry(b *testing.B) {
	s, r := reduced()
	s.Masked = true
	for b.Loop() {
		if _, _, err := Try(&s, "earth", r, 320); err != nil {
			b.Fatal(err)
		}
	}
}

// Both ways of printing are measured as a session that has them is.
func TestTryWaysIsTheWayChosen(t *testing.T) {
	s, r := reduced()
	got, err := TryWays(&s, r)
	if err != nil {
		t.Fatal(err)
	}
	for way, measured := range map[relief.Way]Measured{{}: got.Tuned, {Straight: true}: got.Straight, {Straight: true, AtDepth: true}: got.Anchored} {
		chosen := s
		chosen.Way = way
		p, err := Prepare(&chosen)
		if err != nil {
			t.Fatal(err)
		}
		if want := p.Measure(&chosen, r.Planes, 0); measured != want {
			t.Errorf("%+v: %+v, want %+v", way, measured, want)
		}
	}
	if got.Straight == got.Tuned || got.Anchored == got.Straight {
		t.Error("two ways measure the same")
	}
}

// More light makes more gelatine: behind a longer exposure of cyan the print gets no lighter
// anywhere and takes red away, which is what cyan absorbs.
func TestTryExposures(t *testing.T) {
	s, r := reduced()
	prints, err := TryExposures(&s, pigment.Cyan, []float64{-1, 0, 1}, r, 80)
	if err != nil {
		t.Fatal(err)
	}
	red := [3]int{}
	for i, img := range prints {
		for k := 0; k < len(img.Pix); k += 4 {
			red[i] += int(img.Pix[k])
		}
	}
	if !(red[0] > red[1] && red[1] > red[2]) {
		t.Errorf("red of a cyan layer exposed less, as meant and more: %v", red)
	}
}

// Batches that went light or heavy bracket the likely print, and may miss the reference by
// more or less than it does; without doubts there is no range.
func TestTryTellsHowFarItMayVary(t *testing.T) {
	s, r := reduced()
	got, _, err := Try(&s, "arylide", r, 40)
	if err != nil {
		t.Fatal(err)
	}
	if !(got.Least <= got.Mean && got.Mean <= got.Most && got.Most > got.Least) {
		t.Errorf("mean ΔE00 %.2f, from %.2f to %.2f", got.Mean, got.Least, got.Most)
	}
	s.Unknowns = &spread.Unknowns{}
	s.Neutral.Unsure = 0
	if got, _, err = Try(&s, "arylide", r, 40); err != nil || math.Abs(got.Most-got.Least) > 0.3 {
		t.Errorf("without doubts mean ΔE00 goes from %.2f to %.2f: %v", got.Least, got.Most, err)
	}
}

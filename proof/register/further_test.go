package register

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/linear"
	"threeply/proof/plane"
	"threeply/proof/warp"
)

// partMoved moves what lies left of a share of the width by (dx, dy) pixels.
func partMoved(p *plane.Plane, share float64, dx, dy int) *plane.Plane {
	out := plane.New(p.W, p.H)
	for y := range p.H {
		for x := range p.W {
			u, v := x, y
			if float64(x) < share*float64(p.W) {
				u, v = min(max(x-dx, 0), p.W-1), min(max(y-dy, 0), p.H-1)
			}
			out.Pix[y*p.W+x] = p.At(u, v)
		}
	}
	return out
}

// TestAPartThatMovedIsToldOf holds that places which were measured with certainty
// and lie elsewhere are counted, within the search of the full size and beyond it,
// and that no plate passes for sure of which a part lies more than three pixels off.
func TestAPartThatMovedIsToldOf(t *testing.T) {
	t.Parallel()
	const w, h = 1050, 700
	key := view(drawn(w, h, 21), 1)
	other := view(drawn(w, h, 21), 2)
	cases := []struct {
		share  float64
		dx, dy int
	}{{0.5, 25, 0}, {0.4, 0, 38}, {0.6, 8, 0}, {0.5, 0, 6}}
	var moved []*plane.Plane
	for _, c := range cases {
		moved = append(moved, partMoved(other, c.share, c.dx, c.dy))
	}
	for i, p := range registerAll(t, key, Options{}, moved...) {
		c := cases[i]
		size := math.Hypot(float64(c.dx), float64(c.dy))
		want := min(c.share, 1-c.share)
		t.Logf("%.0f %% moved by %.0f px: outvoted %.2f, confidence %.2f, left %+v; %s", 100*c.share, size, p.Outvoted, p.Confidence, p.Residual, p.Outcome)
		if math.Abs(p.Outvoted-want) > 0.13 || p.Confidence > 1-p.Outvoted || p.Confidence > 0.85 || p.Confidence < 0.3 {
			t.Errorf("%+v: outvoted %.2f, want %.2f; confidence %.2f", c, p.Outvoted, want, p.Confidence)
		}
		if math.Abs(p.Residual.Max-size) > 1.5 || p.Residual.P95 < size-0.5 || p.Residual.Median > 0.5 {
			t.Errorf("%+v: left %+v", c, p.Residual)
		}
		if p.Outcome != Found || p.Outvoted <= Moved {
			t.Errorf("%+v: %s, %.2f outvoted", c, p.Outcome, p.Outvoted)
		}
	}
}

// TestABentPlateIsFittedAsAWhole holds that the map of unevenly shrunken film is
// near the best affine map of the whole picture, and that the figures say what is
// left of it.
func TestABentPlateIsFittedAsAWhole(t *testing.T) {
	t.Parallel()
	const w, h = 1000, 733
	p := drawn(w, h, 4).shoot(w, h, 1, shot{mix: [3]float64{0.3, 0.4, 0.3}, gamma: 0.8, negative: true, noise: 0.01, m: affine.Identity}, 1)
	amounts := []float64{4, 16}
	got := registerAll(t, p, wholeNegatives(w, h), bent(p, amounts[0]), bent(p, amounts[1]))
	for i, amount := range amounts {
		// Where the bent plate shows the key's (x, y), as far out as patches reach,
		// and the best affine map there.
		var truth []measured
		for j := range 21 {
			for i := range 21 {
				x, y := w*(0.1+0.8*float64(i)/20), h*(0.1+0.8*float64(j)/20)
				px, py := x, y
				for range 40 {
					dx, dy := bend(px/w, py/h, amount)
					px, py = x+dx, y+dy
				}
				truth = append(truth, measured{x: x, y: y, dx: px - x, dy: py - y, precision: linear.Symmetric{XX: 1, YY: 1}})
			}
		}
		best, ok := solve(truth, nil)
		if !ok {
			t.Fatal("no best map")
		}
		of := func(m affine.Matrix) warp.Residual {
			var v []float64
			for _, f := range truth {
				v = append(v, miss(m, f))
			}
			return warp.Summary(v)
		}
		q := got[i]
		least, is := of(best), of(q.Matrix)
		t.Logf("bent by %.0f px: best affine leaves %.2f %.2f %.2f, found %.2f %.2f %.2f, said %.2f %.2f %.2f; outvoted %.2f, confidence %.2f", amount,
			least.Median, least.P95, least.Max, is.Median, is.P95, is.Max, q.Residual.Median, q.Residual.P95, q.Residual.Max, q.Outvoted, q.Confidence)
		if is.Median > 1.15*least.Median+0.1 || is.P95 > 1.2*least.P95+0.1 || is.Max > 1.5*least.Max+0.2 {
			t.Errorf("bent by %.0f px: the map leaves %+v, the best %+v", amount, is, least)
		}
		if q.Residual.Median < 0.7*is.Median || q.Residual.P95 < 0.7*is.P95 || q.Outvoted > Moved || q.Confidence > 0.9 && is.P95 > 3 {
			t.Errorf("bent by %.0f px: %+v is said of %+v, %.2f outvoted, confidence %.2f", amount, q.Residual, is, q.Outvoted, q.Confidence)
		}
		wave := func(x, y float64) (dx, dy float64) { return bend(x/w, y/h, amount) }
		if is, said := trueWithin95(t, &q, wave), within95(&q.Survey); is > said || said > 1.25*is+0.1 || Parted(&q.Survey) {
			t.Errorf("bent by %.0f px: 95 %% lies within %.2f px, said %.2f; parted %v", amount, is, said, Parted(&q.Survey))
		}
		if l, ok := Smooth(q.Field, w, h); !ok || !l.Worth() || l.After.Median > 0.5*l.Before.Median {
			t.Errorf("bent by %.0f px: local %v, before %+v, after %+v", amount, ok, l.Before, l.After)
		}
	}
}

// TestWeakMatchesAreNoPlaces holds that patches of noise, which lie anywhere, are
// not counted as moved.
func TestWeakMatchesAreNoPlaces(t *testing.T) {
	t.Parallel()
	key, other := view(drawn(840, 630, 22), 1), view(drawn(840, 630, 22), 2)
	bare := noise(840, 630, 5)
	for y := range 630 {
		for x := range 252 {
			other.Pix[y*840+x] = bare.Pix[y*840+x]
		}
	}
	got, err := Planes(context.Background(), [3]*plane.Plane{key, other, flatPlane(60, 60)}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("outvoted %.3f, confidence %.2f, left %+v", got[1].Outvoted, got[1].Confidence, got[1].Residual)
	if got[1].Outvoted > 0.02 || got[1].Confidence < 0.9 || got[1].Residual.P95 > 1 {
		t.Errorf("outvoted %.2f, confidence %.2f, left %+v", got[1].Outvoted, got[1].Confidence, got[1].Residual)
	}
}

// TestSheetOf tells a field that bends from one that has a step, with noise.
func TestSheetOf(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	for name, c := range map[string]struct {
		at   func(x, y float64) (dx, dy float64)
		want bool // one smooth group
	}{
		"bent by 12 px":   {func(x, y float64) (float64, float64) { return bend(x/1500, y/1000, 12) }, true},
		"turned":          {func(x, y float64) (float64, float64) { return -0.01 * y, 0.01 * x }, true},
		"a step of 6 px":  {func(x, y float64) (float64, float64) { return 6 * math.Round(x/1500), 0 }, false},
		"a step of 25 px": {func(x, y float64) (float64, float64) { return 0, 25 * math.Round(y/1000) }, false},
	} {
		var patches []measured
		for j := range 9 {
			for i := range 12 {
				f := measured{x: 60 + 120*float64(i), y: 60 + 105*float64(j), score: 0.9, unique: 1, settled: true}
				f.dx, f.dy = c.at(f.x, f.y)
				f.dx, f.dy = f.dx+0.1*rnd.NormFloat64(), f.dy+0.1*rnd.NormFloat64()
				patches = append(patches, f)
			}
		}
		if on := largestSmoothGroup(patches); (len(on) > 100) != c.want {
			t.Errorf("%s: %d of %d lie in one smooth group", name, len(on), len(patches))
		}
	}
	if largestSmoothGroup(nil) != nil {
		t.Error("a smooth group of nothing")
	}
}

// TestNoiseIsNoBend holds that noise, which looks smooth here and there, is not taken for
// film that shrank.
func TestNoiseIsNoBend(t *testing.T) {
	p := &pair{keyPlate: &keyPlate{key: newPyramid(flatPlane(1500, 1000), false, [4]int{})}}
	rnd := rand.New(rand.NewPCG(7, 7))
	field := func(amount, noise float64) (out []measured) {
		for j := range 9 {
			for i := range 12 {
				f := measured{x: 60 + 120*float64(i), y: 60 + 105*float64(j), score: 0.9, unique: 1, settled: true}
				dx, dy := bend(f.x/1500, f.y/1000, amount)
				f.dx, f.dy = dx+noise*rnd.NormFloat64(), dy+noise*rnd.NormFloat64()
				out = append(out, f)
			}
		}
		m, ok := fitAllAlike(out)
		if !ok {
			t.Fatal("no affine part")
		}
		for i, f := range out {
			x, y := m.Apply(f.x, f.y)
			out[i].dx, out[i].dy = f.x+f.dx-x, f.y+f.dy-y
		}
		return out
	}
	if p.curved(field(0, 1), 0) {
		t.Error("noise of a pixel is a bend")
	}
	if !p.curved(field(8, 0.3), 0) {
		t.Error("a bend of 8 px with noise of 0.3 px is none")
	}
	for _, amount := range []float64{0, 4, 8, 12} {
		if inTwo(field(amount, 0.1), nearby) || inTwo(field(amount, 0.35), nearby) {
			t.Errorf("noise, or a bend of %g px, is taken for a part that moved", amount)
		}
	}
	for _, noise := range []float64{0.15, 0.35} { // as of plates that are sharp, and blurred
		parted := field(0, noise)
		for i, f := range parted {
			if f.x > 750 && f.y < 500 {
				parted[i].dx += 4
			}
		}
		if !inTwo(parted, nearby) {
			t.Errorf("a quarter that moved by 4 px is not seen at a noise of %g px", noise)
		}
	}
}

// TestAloneIsHalfAsCertain holds that a place which lies elsewhere alone counts for
// little, and two for what they are; patches that overlap are no witnesses of each other.
func TestAloneIsHalfAsCertain(t *testing.T) {
	g := &matcher{patchSet: &patchSet{tile: 96}}
	at := func(x, dx float64) measured {
		return measured{x: x, y: 50, dx: dx, score: 0.9, unique: 1, settled: true}
	}
	for name, c := range map[string]struct {
		patches []measured
		want    float64 // certainty of the first
	}{
		"agrees":         {[]measured{at(100, 0.3), at(250, 0.1)}, 0.9},
		"alone":          {[]measured{at(100, 9), at(250, 0.1)}, 0.45},
		"backed":         {[]measured{at(100, 9), at(250, 9.4)}, 0.9},
		"overlapping":    {[]measured{at(100, 9), at(120, 9)}, 0.45},
		"far away":       {[]measured{at(100, 9), at(900, 9)}, 0.45},
		"by other pixel": {[]measured{at(100, 9), at(250, -9)}, 0.45},
	} {
		if got := certainty(doubtLoners(c.patches, g, 1.5)[0]); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: certain to %.2f, want %.2f", name, got, c.want)
		}
	}
}

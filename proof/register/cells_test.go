package register

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/survey"
)

// square moves what lies in a rectangle, in shares of the sides, by (dx, dy) pixels.
func square(p *plane.Plane, x0, y0, x1, y1 float64, dx, dy int) *plane.Plane {
	out := p.Crop(0, 0, p.W, p.H)
	for y := int(y0 * float64(p.H)); y < int(y1*float64(p.H)); y++ {
		for x := int(x0 * float64(p.W)); x < int(x1*float64(p.W)); x++ {
			out.Pix[y*p.W+x] = p.At(min(max(x-dx, 0), p.W-1), min(max(y-dy, 0), p.H-1))
		}
	}
	return out
}

// within95 is what 95 % of a survey's cells lie within, what they may be at most with it.
func within95(m *survey.Map) float64 {
	var all []float64
	for i := range m.Cells {
		all = append(all, math.Hypot(math.Hypot(m.DX[i], m.DY[i]), m.Within[i]))
	}
	slices.Sort(all)
	return all[len(all)*95/100]
}

// pairs are two plates of one scene at several sharpnesses, by σ in pixels, and the map
// between them.
func pairs(s *scene, blurs ...float64) (keys, others map[float64]*plane.Plane, m affine.Matrix) {
	w, h := s.w, s.h
	m = about(w, h, affine.Parts{DX: 5.3, DY: -4.2, Turn: 0.3, StretchX: 1.002, StretchY: 1.003})
	keys, others = map[float64]*plane.Plane{}, map[float64]*plane.Plane{}
	for _, b := range blurs {
		look := shot{mix: [3]float64{0.3, 0.5, 0.2}, gamma: 0.8, negative: true, noise: 0.012, blur: b, m: affine.Identity}
		keys[b] = s.shoot(w, h, 1, look, 1)
		look.gamma, look.m = 0.65, m
		others[b] = s.shoot(w, h, 1, look, 2)
	}
	return keys, others, m
}

// discs are pairs of one scene of 600 × 400 pixels, at σ of half a pixel and of four, which
// several tests share and none changes.
func discs() (keys, others map[float64]*plane.Plane, m affine.Matrix) {
	p := discPairs()
	return p.keys, p.others, p.m
}

type blurredPairs struct {
	keys, others map[float64]*plane.Plane
	m            affine.Matrix
}

var discPairs = sync.OnceValue(func() (p blurredPairs) {
	p.keys, p.others, p.m = pairs(drawn(600, 400, 21), 0.5, 4)
	return p
})

// wholeNegatives says that three plates are negatives of w × h pixels whose pictures reach to
// their edges.
func wholeNegatives(w, h int) Options {
	all := [4]int{0, 0, w, h}
	return Options{Polarity: [3]bool{true, true, true}, Area: [3][4]int{all, all, all}}
}

// registerAll registers plates to a key, two at a time, which share what is made of it.
func registerAll(t *testing.T, key *plane.Plane, opt Options, others ...*plane.Plane) []Plate {
	t.Helper()
	var out []Plate
	for i := 0; i < len(others); i += 2 {
		planes := [3]*plane.Plane{key, others[i], flatPlane(60, 60)}
		if i+1 < len(others) {
			planes[2] = others[i+1]
		}
		got, err := Planes(context.Background(), planes, opt)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, got[1:]...)
	}
	return out[:len(others)]
}

// TestMovedPartsAreFound holds that a part of the picture which lies elsewhere is told of
// wherever it lies, at any sharpness, with how far it lies off, and that the map is that
// of the rest.
func TestMovedPartsAreFound(t *testing.T) {
	t.Parallel()
	keys, others, m := discs()
	type moved struct {
		blur   float64
		at     [4]float64
		dx, dy int
	}
	cases := []moved{
		{0.5, [4]float64{0.7, 0.7, 1, 1}, 4, 3},     // the lower right 9 %
		{0.5, [4]float64{0, 0, 0.11, 1}, -6, 2},     // strips along edges
		{0.5, [4]float64{0, 0, 1, 0.13}, 0, 11},     //
		{0.5, [4]float64{0, 0.85, 1, 1}, -13, -20},  //
		{0.5, [4]float64{0.3, 0.3, 0.6, 0.6}, 3, 0}, // amid the picture
		{0.5, [4]float64{0.8, 0, 1, 1}, 0, 40},      // as far as a tenth of the picture's height
		{4, [4]float64{0.7, 0.7, 1, 1}, 4, 3},       // the first of blurred plates
		{4, [4]float64{0, 0.5, 0.5, 1}, 6, 0},       // a quarter
	}
	var all []Plate
	for _, blur := range []float64{0.5, 4} { // as the cases are ordered
		var planes []*plane.Plane
		for _, c := range cases {
			if c.blur == blur {
				planes = append(planes, square(others[blur], c.at[0], c.at[1], c.at[2], c.at[3], c.dx, c.dy))
			}
		}
		all = append(all, registerAll(t, keys[blur], wholeNegatives(600, 400), planes...)...)
	}
	for i, c := range cases {
		name := fmt.Sprintf("blurred by %g px, %v moved by %d, %d", c.blur, c.at, c.dx, c.dy)
		p := all[i]
		rms, _ := errorsOf(p.Matrix, m, 600, 400)
		share, size := (c.at[2]-c.at[0])*(c.at[3]-c.at[1]), math.Hypot(float64(c.dx), float64(c.dy))
		t.Logf("%s: %.3f of %.3f elsewhere, largest %.2f px, map off by %.3f px, confidence %.2f", name, p.Outvoted, share, p.Residual.Max, rms, p.Confidence)
		if !Parted(&p.Survey) || math.Abs(p.Outvoted-share) > 0.6*share {
			t.Errorf("%s: %.3f elsewhere, want %.3f", name, p.Outvoted, share)
		}
		if math.Abs(p.Residual.Max-size) > 1.5 || rms > 0.15 || p.Confidence > 1-p.Outvoted+1e-9 {
			t.Errorf("%s: largest %.2f px, map off by %.3f px, confidence %.2f", name, p.Residual.Max, rms, p.Confidence)
		}
	}
}

// roofs is nothing of a scene but a line of roofs amid it.
func roofs(all *scene) *scene {
	out := *all
	s := &out
	for c := range s.rgb {
		s.rgb[c] = slices.Clone(s.rgb[c])
		for i := range s.rgb[c] {
			switch y := i / s.w; {
			case y < s.h/2:
				s.rgb[c][i] = 0.7
			case y > s.h*13/20:
				s.rgb[c][i] = 0.06
			}
		}
	}
	return s
}

// TestWhatWasNotMeasuredIsSaid holds that a plate of which half is missing, and one that
// shows nothing but a line of roofs, are covered only so far, and lie off by no more than
// is said.
func TestWhatWasNotMeasuredIsSaid(t *testing.T) {
	t.Parallel()
	keys, others, m := discs()
	roofKeys, roofOthers, _ := pairs(roofs(drawn(600, 400, 21)), 0.5)
	key, other := keys[0.5], others[0.5]
	half := other.Crop(0, 0, other.W, other.H)
	for i := range half.Pix {
		if i%half.W > half.W/2 {
			half.Pix[i] = 3000
		}
	}
	opt := wholeNegatives(600, 400)
	both := registerAll(t, key, opt, other, half)
	whole := both[0]
	if whole.Survey.Coverage() < 0.98 || within95(&whole.Survey) > 0.3 || Parted(&whole.Survey) || Lost(&whole.Survey) != nil || whole.Confidence < 0.95 {
		t.Errorf("of whole plates: coverage %.2f, 95 %% within %.2f px, confidence %.2f", whole.Survey.Coverage(), within95(&whole.Survey), whole.Confidence)
	}
	const most = 0.6
	for name, p := range map[string]Plate{"half a plate": both[1], "a line of roofs": registerAll(t, roofKeys[0.5], opt, roofOthers[0.5])[0]} {
		_, worst := errorsOf(p.Matrix, m, 600, 400)
		said := slices.Max(p.Survey.Within)
		t.Logf("%s: coverage %.2f, said within %.2f px, is %.2f, confidence %.2f, %s", name, p.Survey.Coverage(), said, worst, p.Confidence, p.Outcome)
		if p.Outcome != Found || p.Survey.Coverage() > most || worst > said || p.Confidence > 0.9 && worst > 1.5 {
			t.Errorf("%s: coverage %.2f, said within %.2f px, is %.2f", name, p.Survey.Coverage(), said, worst)
		}
	}
}

// TestTheRangeOfUnequallySoftPlatesIsNarrow holds that of a plate much softer than its key, which
// lies well, the range that is given holds the truth and is no wider than that of equal ones.
func TestTheRangeOfUnequallySoftPlatesIsNarrow(t *testing.T) {
	t.Parallel()
	keys, _, m := discs()
	other := drawn(600, 400, 21).shoot(600, 400, 1, shot{mix: [3]float64{0.3, 0.5, 0.2}, gamma: 0.65, negative: true, noise: 0.012, blur: 2.4, m: m}, 2)
	p := registerAll(t, keys[0.5], wholeNegatives(600, 400), other)[0]
	is, said := offBy95(&p, m), within95(&p.Survey)
	t.Logf("95 %% lies within %.3f px, said %.3f, confidence %.2f", is, said, p.Confidence)
	if is > sharply || said < is || said > closely {
		t.Errorf("95 %% lies within %.3f px, said %.3f", is, said)
	}
}

// trueWithin95 is what 95 % of the cells truly lie within, of a plate that wave bends.
func trueWithin95(t *testing.T, p *Plate, wave func(x, y float64) (dx, dy float64)) float64 {
	t.Helper()
	back, ok := p.Matrix.Inverse()
	if !ok {
		t.Fatal("no map")
	}
	var truth []float64
	for i := range p.Survey.Cells {
		x, y := p.Survey.Centre(i)
		px, py := x, y
		for range 30 { // where the other plate shows (x, y)
			dx, dy := wave(px, py)
			px, py = x+dx, y+dy
		}
		u, v := back.Apply(px, py)
		truth = append(truth, math.Hypot(u-x, v-y))
	}
	slices.Sort(truth)
	return truth[len(truth)*95/100]
}

// TestTheRangeHoldsTheTruth holds, for plates that bend smoothly in many ways, that in 19
// of 20 the range which is given holds what 95 % of the picture truly lies within.
func TestTheRangeHoldsTheTruth(t *testing.T) {
	t.Parallel()
	const w, h, sets = 400, 300, 20
	s := drawn(w, h, 5)
	key := s.shoot(w, h, 1, shot{mix: [3]float64{0.3, 0.5, 0.2}, gamma: 0.8, noise: 0.012, m: affine.Identity}, 1)
	held := 0
	waves := make([]func(x, y float64) (dx, dy float64), sets)
	others := make([]*plane.Plane, sets)
	amountOf := func(k int) float64 { return 0.2 + 0.15*float64(k) }
	for k := range sets {
		amount, phase := amountOf(k), float64(k)
		wave := func(x, y float64) (dx, dy float64) {
			return amount * math.Sin(math.Pi*x/w+phase), 0.7 * amount * math.Cos(math.Pi*y/h+2*phase)
		}
		waves[k] = wave
		other := plane.New(w, h)
		others[k] = other
		for y := range h {
			for x := range w {
				dx, dy := wave(float64(x), float64(y))
				other.Pix[y*w+x] = uint16(key.Bilinear(float64(x)-dx, float64(y)-dy))
			}
		}
	}
	for k, p := range registerAll(t, key, wholeNegatives(w, h), others...) {
		amount := amountOf(k)
		is, said := trueWithin95(t, &p, waves[k]), within95(&p.Survey)
		if is <= said+0.01 {
			held++
		}
		t.Logf("bent by %.2f px: 95 %% lies within %.2f px, said %.2f", amount, is, said)
		if said > 2*is+0.3 {
			t.Errorf("bent by %.2f px: said within %.2f px, is %.2f", amount, said, is)
		}
	}
	if held < sets*19/20 {
		t.Errorf("the range holds the truth in %d of %d sets", held, sets)
	}
}

// TestElsewhereIsBeyondDoubt has the mean of a cell lie off by three pixels, and be so sure or so.
func TestElsewhereIsBeyondDoubt(t *testing.T) {
	for within, want := range map[float64]bool{0.1: true, 1.2: true, 1.8: false} {
		m := cellMean{dx: -2.4, dy: 1.8, within: within}
		if m.elsewhere(nearby) != want {
			t.Errorf("3 px to within %g: elsewhere %v, want %v", within, !want, want)
		}
		if m.elsewhere(3.5) {
			t.Errorf("3 px to within %g lies elsewhere where 3.5 px agree", within)
		}
	}
}

package picture

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/density"
	"threeply/proof/mask"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/tone"
)

// greys is the set of patches with one and the same plate three times, and its
// printing with tissues that hold on to everything.
func greys(t *testing.T, holdOn float64) (*Printing, func(w relief.Way, row int) spectrum.Lab) {
	t.Helper()
	s, planes := picturetest.Patches()
	planes[0], planes[2] = planes[1], planes[1]
	picturetest.Hold(&s, holdOn)
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	return p, func(w relief.Way, row int) spectrum.Lab {
		pic := Assemble(&s, p, p.CurvesOf(&s, ReadFilms(&s), w), planes, affine.Identity, 0)
		var x [3]float64
		for i, q := range pic.Coordinates(10, float64(20*row+10)) {
			x[i] = cube.Thickness(float64(q))
		}
		return p.Cube.At(x)
	}
}

// Tuned at the normal exposures is the print of before, but for the wash; straight
// leans; an exposure moves its layer alone.
func TestWaysOfPrinting(t *testing.T) {
	p, at := greys(t, 0)
	straight, tuned := 0.0, 0.0
	for row := 1; row < 7; row++ {
		l := at(relief.Way{}, row)
		aim := p.Scale.Onto(spectrum.Lab{0, 0, 0})
		w := (l[0] - aim[0]) / (p.Scale.Paper[0] - aim[0])
		tint := p.Scale.Onto(spectrum.Lab{100 * w, 0, 0})
		tuned = max(tuned, math.Hypot(l[1]-tint[1], l[2]-tint[2]))
		straight += spectrum.DeltaE00(l, at(relief.Way{Straight: true, Range: 1.3}, row)) / 6
	}
	t.Logf("tuned strays from neutral by %.2f, straight prints ΔE00 %.1f off in the mean", tuned, straight)
	if !(tuned < 0.5 && straight > 2) {
		t.Errorf("tuned strays by %.2f, straight prints %.2f off", tuned, straight)
	}
	for _, w := range []relief.Way{{}, {Straight: true, Range: 1.3}, {Straight: true, AtDepth: true}} {
		more := w
		more.Stops[pigment.Yellow] = 0.3
		if a, b := at(w, 4), at(more, 4); !(b[2] > a[2]+1) {
			t.Errorf("%+v: 0.3 stop more of yellow takes b* from %.1f to %.1f", w, a[2], b[2])
		}
	}
}

// An independent audit of this chain gave straight curves 11 to 14 ΔE00 from tuned ones, in
// the mean. What decides is the tone that the one exposure of a layer is set for. Set for a
// middle grey, which workshops judge by (common practice), a straight print lies nearer;
// set for the black it lies as far as the audit said or farther.
func TestStraightAgainstTuned(t *testing.T) {
	film := tone.Film{Negative: true, White: 1.6, Black: 0.3, Gamma: 0.7} // γ and range as is typical (from memory)
	for _, id := range []string{"arylide", "gamboge"} {
		s := session.New()
		s.Palette = id
		for i := range s.Sources {
			s.Sources[i].Film = film
		}
		p, err := Prepare(&s)
		if err != nil {
			t.Fatal(err)
		}
		apart := func(w relief.Way) float64 {
			const n = 7 // tones of each layer
			tuned, straight, sum := p.Relief(&s, relief.Way{}), p.Relief(&s, w), 0.0
			for k := range n * n * n {
				var a, b [3]float64
				for i, step := range [3]int{k % n, k / n % n, k / n / n} {
					u := float64(step) / (n - 1)
					a[i], b[i] = tuned[i].Amount(u), straight[i].Amount(relief.DensityOf(film, u))
				}
				sum += spectrum.DeltaE00(p.Cube.At(a), p.Cube.At(b)) / (n * n * n)
			}
			return sum
		}
		grey, black := apart(relief.Way{Straight: true}), apart(relief.Way{Straight: true, AtDepth: true})
		t.Logf("%s: straight lies ΔE00 %.1f from tuned, exposed for a middle grey; %.1f for the black", id, grey, black)
		if !(grey < 11 && black > 11) {
			t.Errorf("%s: %.1f exposed for a middle grey, %.1f for the black", id, grey, black)
		}
	}
}

// What the wash takes is paper, in one step, and is counted and told in densities.
func TestLossesAreShownAndCounted(t *testing.T) {
	p, at := greys(t, 4)
	s, planes := picturetest.Patches()
	planes[0], planes[2] = planes[1], planes[1]
	s.OwnPalettes, s.Palette = []pigment.Palette{p.Recipe.Palette}, p.Recipe.Palette.ID
	if got := at(relief.Way{}, 6); got.Distance(p.Scale.Paper) > 0.5 {
		t.Errorf("a light grey below the hold-on prints %.1f, the paper is %.1f", got, p.Scale.Paper)
	}
	film := s.Sources[1].Film
	for _, w := range []relief.Way{{}, {Straight: true, Range: 2}, {Stops: [3]float64{3, 3, 3}}} {
		layers := p.Relief(&s, w)
		for i, l := range p.Losses(&s, w, p.SampleDensities(&s, planes, 0), nil) {
			for d := film.Black; d < film.White; d += 0.01 {
				x := d
				if !w.Straight {
					x = tone.Depth01(film.Exposure(d))
				}
				f := layers[i].Fate(x)
				for _, c := range []struct {
					fate relief.Fate
					from [2]float64
				}{{relief.Lost, l.LostFrom}, {relief.Blocked, l.BlockedFrom}} {
					if in := d > c.from[0]+0.01 && d < c.from[1]-0.01; in && f != c.fate || f == c.fate && (d < c.from[0]-0.01 || d > c.from[1]+0.01) {
						t.Fatalf("%+v layer %d density %.2f is %s; %s from %.3f to %.3f", w, i, d, f, c.fate, c.from[0], c.from[1])
					}
				}
			}
			if w.Stops[0] == 0 && !(l.Lost > 0 && l.Lost < 0.9) || w.Stops[0] > 0 && !(l.Blocked > 0.1) {
				t.Errorf("%+v layer %d: %+v", w, i, l)
			}
		}
	}
}

// Behind masks a layer is lost and blocked where the masked print leaves it no thickness and
// where it fills the coat: counted here from the print itself, pixel by pixel.
func TestLossesBehindMasks(t *testing.T) {
	s, planes := picturetest.Patches()
	picturetest.Hold(&s, 3)
	s.Way.Stops = [3]float64{-0.5, 0, 2}
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	masks := mask.Matrix{1.3, -0.2, -0.1, -0.15, 1.25, -0.1, 0, -0.2, 1.2}
	losses := p.Losses(&s, s.Way, p.SampleDensities(&s, planes, 0), &masks)
	p.Masks = &masks
	pic := Assemble(&s, p, p.Curves(&s), planes, affine.Identity, 0)
	var lost, blocked [3]float64
	n := 0.0
	samples(&s, measureSide, func(x, y float64) {
		n++
		for i, q := range pic.Coordinates(x, y) {
			tone := pic.Masked(pigment.Printer(i), x, y)
			switch {
			case q == 0 && tone > 0.01: // darker than white by a unit of L*
				lost[i]++
			case q > 0.9999:
				blocked[i]++
			}
			if losses[i].At(tone) == relief.Lost && q > 0.02 {
				t.Errorf("at %g, %g the %s layer is said to be lost at tone %.3f and prints %.3f", x, y, pigment.Printer(i), tone, q)
			}
		}
	})
	plain := p.Losses(&s, s.Way, p.SampleDensities(&s, planes, 0), nil)
	for i, l := range losses {
		t.Logf("%s: lost %.3f (unmasked %.3f), blocked %.3f (unmasked %.3f)", pigment.Printer(i), l.Lost, plain[i].Lost, l.Blocked, plain[i].Blocked)
		if math.Abs(l.Lost-lost[i]/n) > 0.005 || math.Abs(l.Blocked-blocked[i]/n) > 0.005 || !l.ByTone {
			t.Errorf("%s: lost %.3f and blocked %.3f are said, the print has %.3f and %.3f", pigment.Printer(i), l.Lost, l.Blocked, lost[i]/n, blocked[i]/n)
		}
	}
	if losses[pigment.Yellow].Lost == plain[pigment.Yellow].Lost {
		t.Error("masks change nothing")
	}
}

// The place's own colour is the likely one, and what moves it is said.
func TestPlaceIsThePrintsOwn(t *testing.T) {
	s, planes := picturetest.Patches()
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []relief.Way{{}, {Straight: true, Range: 1.3}} {
		pic := Assemble(&s, p, p.CurvesOf(&s, ReadFilms(&s), w), planes, affine.Identity, 0)
		var x, densities [3]float64
		for i, q := range pic.Coordinates(50, 70) {
			x[i] = cube.Thickness(float64(q))
			densities[i] = density.Max / 65535.0 * planes[s.SourceOf(pigment.Printer(i))].Bilinear(50, 70)
		}
		sure := spread.Usual.Of(p.Place(&s, w, densities))
		if d := spectrum.DeltaE00(sure.Likely, p.Cube.At(x)); !(d < 0.5) {
			t.Errorf("%+v: likely %.1f, the print has %.1f", w, sure.Likely, p.Cube.At(x))
		}
		if len(sure.Causes) < 5 || !(sure.DeltaE > 0.5) {
			t.Errorf("%+v: %s", w, sure.Words())
		}
	}
}

// A session prints by its own way; masked it is tuned, whatever it says; and what the
// variants change is their way alone.
func TestTheSessionsWay(t *testing.T) {
	s, _ := picturetest.Patches()
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	s.Way = relief.Way{Straight: true, Range: 1.3, Stops: [3]float64{0.1, 0.2, -0.3}}
	if got := p.Way(&s); got != s.Way {
		t.Errorf("the way is %+v, the session has %+v", got, s.Way)
	}
	if a, b := p.Curves(&s), p.CurvesOf(&s, ReadFilms(&s), s.Way); *a[1].Print != *b[1].Print || *a[1].Thickness != *b[1].Thickness {
		t.Error("the curves are not those of the session's way")
	}
	tuned := s.Way
	tuned.Straight = false
	if a, b := p.CurvesOf(&s, ReadFilms(&s), s.Way), p.CurvesOf(&s, ReadFilms(&s), tuned); *a[0].Thickness != *b[0].Thickness || *a[0].Print == *b[0].Print {
		t.Error("masked tones do not print tuned, or straight plates do")
	}
	for v, want := range map[Variant][3]float64{ // in stops: log2 0.85 and log2 1.15
		VariantUnder: {0.1 - 0.23447, 0.2 - 0.23447, -0.3 - 0.23447}, VariantOver: {0.1 + 0.20163, 0.2 + 0.20163, -0.3 + 0.20163},
		VariantLighter: {0, 0.1, -0.4}, VariantHeavier: {0.2, 0.3, -0.2}, VariantTuned: s.Way.Stops, VariantStraight: s.Way.Stops,
	} {
		got := p.Variant(v, spread.Usual).Way(&s)
		for i := range want {
			if math.Abs(got.Stops[i]-want[i]) > 1e-4 {
				t.Errorf("variant %d: stops %.4f, want %.4f", v, got.Stops, want)
				break
			}
		}
		if got.Straight == (v == VariantTuned) {
			t.Errorf("variant %d: straight %t", v, got.Straight)
		}
	}
	s.Masked = true
	if p.Way(&s).Straight {
		t.Error("a masked print is straight")
	}
	s.Masked, s.Sources = false, session.New().Sources
	if p.Way(&s).Straight {
		t.Error("without plates something prints straight")
	}
}

// Tuned, the greys of a print are those of the neutral scale; more light on one layer
// turns them to its colour, and a straight print's black is the deepest when exposed for it.
func TestGreysAsPrinted(t *testing.T) {
	s, _ := picturetest.Patches()
	picturetest.Hold(&s, 0)
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range []float64{0.25, relief.MidGrey, 1} {
		want := p.Light.Lab(p.Recipe.Reflectance(p.Scale.Thickness(u)))
		if got := p.Grey(&s, relief.Way{}, u); spectrum.DeltaE00(got, want) > 0.05 {
			t.Errorf("tone %g prints %.2f, the scale has %.2f", u, got, want)
		}
	}
	plain := p.Grey(&s, relief.Way{}, relief.MidGrey)
	if more := p.Grey(&s, relief.Way{Stops: [3]float64{0.2, 0, 0}}, relief.MidGrey); !(more[2] > plain[2]+2) {
		t.Errorf("more light on yellow takes b* from %.1f to %.1f", plain[2], more[2])
	}
	atGrey, atBlack := relief.Way{Straight: true, Range: 1.1}, relief.Way{Straight: true, Range: 1.1, AtDepth: true}
	depth := p.Scale.Depth.Lab
	if a, b := spectrum.DeltaE00(p.Grey(&s, atBlack, 1), depth), spectrum.DeltaE00(p.Grey(&s, atGrey, 1), depth); !(a < 0.1 && b > 1) {
		t.Errorf("exposed for the black it is ΔE00 %.2f off, for a grey %.2f", a, b)
	}
}

// BenchmarkCurves is what a move of an exposure works out anew for the print.
func BenchmarkCurves(b *testing.B) {
	s, _ := picturetest.Patches()
	p, err := Prepare(&s)
	if err != nil {
		b.Fatal(err)
	}
	films := ReadFilms(&s)
	for b.Loop() {
		p.CurvesOf(&s, films, relief.Way{Stops: [3]float64{0.1, 0, 0}})
	}
}

// BenchmarkLosses is what it works out anew for what is washed off and blocked.
func BenchmarkLosses(b *testing.B) {
	s, planes := picturetest.Patches()
	p, err := Prepare(&s)
	if err != nil {
		b.Fatal(err)
	}
	sampled := p.SampleDensities(&s, planes, 0)
	for b.Loop() {
		p.Losses(&s, s.Way, sampled, nil)
	}
}

// A shape lays each tone as the even scale has the tone that the shape takes it to, in every
// layer of a tuned print; a straight one has no use for it.
func TestShapedPrint(t *testing.T) {
	p, _ := greys(t, 0)
	s, _ := picturetest.Patches()
	shape := relief.Shape{Contrast: 4, Highlight: -2, Shadow: 3}
	for _, u := range []float64{0.1, 0.25, 0.5, 0.75, 0.9} {
		got, want := p.Grey(&s, relief.Way{Shape: shape}, u), p.Grey(&s, relief.Way{}, shape.Tone(u, 0))
		if d := spectrum.DeltaE00(got, want); d > 1e-6 {
			t.Errorf("tone %g prints ΔE00 %g off", u, d)
		}
	}
	even, more := p.Grey(&s, relief.Way{}, 0.5), p.Grey(&s, relief.Way{Shape: relief.Shape{Balance: [3]float64{8, 0, 0}}}, 0.5)
	if more[2] < even[2]+1 {
		t.Errorf("more yellow moves b* from %.2f to %.2f", even[2], more[2])
	}
	straight := relief.Way{Straight: true}
	shaped := straight
	shaped.Shape = shape
	if p.Grey(&s, straight, 0.5) != p.Grey(&s, shaped, 0.5) {
		t.Error("a shape moves a straight print")
	}
}

package picture

import (
	"math"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/density"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/relief"
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
		pic := Assemble(&s, p, p.CurvesOf(&s, w), planes, affine.Identity, 0)
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
		for i, l := range p.Losses(&s, w, p.SampleDensities(&s, planes, 0)) {
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

// The place's own colour is the likely one, and what moves it is said.
func TestPlaceIsThePrintsOwn(t *testing.T) {
	s, planes := picturetest.Patches()
	p, err := Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []relief.Way{{}, {Straight: true, Range: 1.3}} {
		pic := Assemble(&s, p, p.CurvesOf(&s, w), planes, affine.Identity, 0)
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

package figures

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threeply/proof/balance"
	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
)

func TestOf(t *testing.T) {
	s := session.New()
	r, light, err := picture.Recipe(&s)
	if err != nil {
		t.Fatal(err)
	}
	f := Of(r, light, s.Limit)

	// A solid of colours of CIELAB holds less than the cylinder of its largest chroma.
	widest := slices.Max(f.Outline)
	if cylinder := math.Pi * widest * widest * 100; !(f.Volume > 0 && f.Volume < cylinder) {
		t.Errorf("volume %.0f, in a cylinder of %.0f", f.Volume, cylinder)
	}
	// The slices and the outline are taken off the solid by two ways of cutting it, the
	// slices in steps of hue and lightness: they agree to a tenth.
	if len(f.Outline) != len(f.Slices) {
		t.Fatalf("%d hues of the outline, %d slices", len(f.Outline), len(f.Slices))
	}
	for k, slice := range f.Slices {
		if len(slice) != 51 {
			t.Fatalf("slice %d has %d lightnesses, want those of L* 0, 2 … 100", k, len(slice))
		}
		if most := slices.Max(slice); most > 1.1*f.Outline[k] || most < 0.9*f.Outline[k] {
			t.Errorf("hue %d°: the slice reaches chroma %.1f, the outline %.1f", 360*k/len(f.Slices), most, f.Outline[k])
		}
	}

	if f.Drift[0].Light != light.ID || f.Drift[0].DeltaE != 0 || len(f.Drift) < 4 {
		t.Errorf("drifts %+v: want the chosen light first and at least three others", f.Drift)
	}
	for _, d := range f.Drift[1:] {
		if d.Light == light.ID || !(d.DeltaE > 0) || d.Name == "" {
			t.Errorf("drift %+v", d)
		}
	}

	if got := balance.Neutral(r, light, s.Limit).Depth.VisualDensity; f.Density != got || !(f.Deeper.NoVeil > got && f.Deeper.More > got) {
		t.Errorf("black %.3f, %.3f by itself; %+v", f.Density, got, f.Deeper)
	}

	b := f.Balance
	paper, black := b.L[0], b.L[len(b.L)-1]
	if math.Abs(paper-light.Lab(r.Reflectance([3]float64{}))[0]) > 1e-9 || !(black < paper-50) || b.Even {
		t.Errorf("the neutral scale runs from L* %.1f to %.1f", paper, black)
	}
	for printer, thickness := range b.T {
		if len(thickness) != len(b.L) || thickness[0] != 0 || !(thickness[len(thickness)-1] > 0.1) {
			t.Errorf("%s: %v for %d tones", printer, thickness, len(b.L))
		}
	}
	if len(b.T) != 3 {
		t.Errorf("thicknesses of %d printers", len(b.T))
	}
}

// A scale made by hand, whose residual crosses what counts as held half way between two
// tones.
func TestBalanceOfALostStretch(t *testing.T) {
	s := balance.Scale{
		L:        []float64{90, 70, 50, 30, 10},
		T:        make([][3]float64, 5),
		Residual: []float64{0, 0.25, 0.75, 1.5, 0},
	}
	b := balanceOf(s)
	if b.Lost == nil {
		t.Fatal("nothing is lost")
	}
	want := [2]float64{60, 30 - 20*(1.0/1.5)}
	for i := range want {
		if math.Abs(b.Lost[i]-want[i]) > 1e-9 {
			t.Errorf("lost between %v, want %v", *b.Lost, want)
		}
	}
	if b.Worst != 1.5 {
		t.Errorf("worst %v", b.Worst)
	}
	if held := balanceOf(balance.Scale{L: s.L, T: s.T, Residual: make([]float64, 5)}); held.Lost != nil {
		t.Errorf("a scale that is held is lost between %v", *held.Lost)
	}
}

// Where nothing is open, every colour is sure and nothing is a cause.
func TestSureOfNothing(t *testing.T) {
	s := session.New()
	s.Unknowns = &spread.Unknowns{Scatter: 1, Surface: 1}
	sure, err := SureOfGreys(&s)
	if err != nil || len(sure) != 4 {
		t.Fatalf("%d greys, %v", len(sure), err)
	}
	for _, one := range sure {
		if one.DeltaE > 1e-9 || len(one.Causes) != 0 || one.L[0] != one.L[1] {
			t.Errorf("%+v", one)
		}
	}
}

// The greys are those of the neutral scale; what is not known of the levels is a cause
// that grows with what the films' neutrals leave open, and moves with the way of printing.
func TestSureOfGreysOfPlates(t *testing.T) {
	s, _ := picturetest.Patches()
	p, err := picture.Prepare(&s)
	if err != nil {
		t.Fatal(err)
	}
	levels := func() (all, alone float64) {
		t.Helper()
		sure, err := SureOfGreys(&s)
		if err != nil {
			t.Fatal(err)
		}
		want := p.Light.Lab(p.Recipe.Reflectance(p.Scale.Thickness(0.5)))
		if grey := sure[1]; spectrum.DeltaE00(grey.Lab, want) > 0.1 {
			t.Errorf("the middle grey is %.1f, the scale has %.1f", grey.Lab, want)
		}
		for _, c := range sure[1].Causes {
			if c.What == spread.CauseLevels {
				alone = max(alone, c.DeltaE)
			}
		}
		for i, c := range sure[1].Causes[1:] {
			if c.DeltaE > sure[1].Causes[i].DeltaE {
				t.Error("the causes are out of order")
			}
		}
		return sure[1].DeltaE, alone
	}
	all, alone := levels()
	s.Neutral = session.Neutral{By: session.ByLight, Light: "grey-world", Unsure: 1}
	moreAll, more := levels()
	t.Logf("levels alone %.1f with the usual doubt, %.1f with a stop; in all %.1f and %.1f", alone, more, all, moreAll)
	if !(alone > 0.1 && more > 3*alone && moreAll > all) {
		t.Errorf("levels alone %.2f and %.2f, in all %.2f and %.2f", alone, more, all, moreAll)
	}
	point, err := SureOfPoint(&s, [3]float64{0.8, 0.9, 1})
	if err != nil || !strings.Contains(point.Words, "nine come within") {
		t.Errorf("%+v, %v", point, err)
	}
}
